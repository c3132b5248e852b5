/** Which groups of a plan need a closer look: nearly all have one leg, and a multicast MAC of their own. */
import type { Address } from '../../values/address.js';
import type { Mac } from '../../values/mac.js';
import type { Leg } from '../../plan/types.js';
import { ethernetAddress } from './multicast-space/ethernet.js';

export interface GroupRepeats {
  /** Multicast MACs that at least two different groups have. */
  readonly sharedEthernet: ReadonlySet<Mac>;
  /** False only for a group that at most one leg has. */
  readonly mayRepeat: (group: Address) => boolean;
  /** Whether it is false for every group. */
  readonly none: boolean;
}

/** Marks are kept in blocks, made where the plan has groups: one array for all of 23 bits would be mostly empty. */
const BLOCK_BITS = 12;
const BLOCK_SIZE = 1 << BLOCK_BITS;

/**
 * An IPv4 group is its low 23 bits, which make the multicast MAC (RFC 1112 §6.4), and upper bits. So one small number
 * for each multicast MAC, its first group's upper bits, tells whether that group or another one comes again; a map of
 * all groups would cost a large plan more than all its rules.
 */
export function findGroupRepeats(legs: readonly Leg[]): GroupRepeats {
  const sharedEthernet = new Set<Mac>();
  const repeated = new Set<Address>();
  const blocks: (Uint16Array | undefined)[] = new Array<undefined>(1 << (23 - BLOCK_BITS)).fill(undefined);
  const first6 = new Map<Mac, Address>();
  for (const { group } of legs) {
    if (group === undefined) continue;
    if (typeof group === 'number') {
      const low = group & 0x7fffff;
      const upper = (group >>> 23) + 1; // 0 means nobody yet
      const block = (blocks[low >>> BLOCK_BITS] ??= new Uint16Array(BLOCK_SIZE));
      const known = block[low & (BLOCK_SIZE - 1)];
      if (known === 0) block[low & (BLOCK_SIZE - 1)] = upper;
      else if (known === upper) repeated.add(group);
      else sharedEthernet.add(ethernetAddress(group));
      continue;
    }
    const mac = ethernetAddress(group);
    const known = first6.get(mac);
    if (known === undefined) first6.set(mac, group);
    else if (known === group) repeated.add(group);
    else sharedEthernet.add(mac);
  }
  return {
    sharedEthernet,
    mayRepeat: (group) => repeated.has(group) || sharedEthernet.has(ethernetAddress(group)),
    none: repeated.size === 0 && sharedEthernet.size === 0,
  };
}
