/** Address blocks no VLAN uses, for suggestions. */
import {
  bitsOf,
  networkOf,
  overlaps,
  rangeOf,
  type Address,
  type AddressRange,
  type Prefix,
} from '../../values/address.js';
import { findRange } from '../../values/address-table.js';
import { specialPurpose } from '../hosts/index.js';

/** Looking further, or suggesting more, would make a plan full of faults slow. */
const MOST_TRIES = 256;
const MOST_GIVEN = 100;

/**
 * Gives the next block of the same size after `like` that overlaps no subnet, lies in the same special block (such as
 * 10.0.0.0/8) and was not given before. `subnets` are of one family, each before those inside it.
 */
export function createFreeBlocks(subnets: readonly Prefix[]): (like: Prefix) => Prefix | undefined {
  const widest: { readonly range: AddressRange }[] = [];
  for (const subnet of subnets) {
    const before = widest.at(-1);
    if (before === undefined || subnet.network > before.range.last) widest.push({ range: rangeOf(subnet) });
  }
  const given: Prefix[] = [];
  return (like) => {
    if (given.length >= MOST_GIVEN) return undefined;
    const { length } = like;
    let network = after(like.network, length);
    for (let tries = 0; tries < MOST_TRIES; tries++) {
      if (network === undefined || specialPurpose(network) !== specialPurpose(like.network)) return undefined;
      const block = { address: network, network, length };
      const used = firstWithin(block, widest);
      if (used === undefined && !given.some((other) => overlaps(block, other))) {
        given.push(block);
        return block;
      }
      network = after(networkOf(used?.last ?? network, length), length);
    }
    return undefined;
  };
}

/** A used range that holds an end of the block, or begins inside it. */
function firstWithin(block: Prefix, widest: readonly { readonly range: AddressRange }[]): AddressRange | undefined {
  const { first, last } = rangeOf(block);
  const held = findRange(widest, first) ?? findRange(widest, last);
  if (held !== undefined) return held.range;
  let low = 0;
  let high = widest.length;
  while (low < high) {
    const middle = (low + high) >>> 1;
    const range = widest[middle]?.range;
    if (range !== undefined && range.first < first) low = middle + 1;
    else high = middle;
  }
  const next = widest[low]?.range;
  return next !== undefined && next.first <= last ? next : undefined;
}

/** The network after this one; undefined at the top of the space, where there is none. */
function after(network: Address, length: number): Address | undefined {
  const next = typeof network === 'number' ? network + 2 ** (32 - length) : network + (1n << BigInt(128 - length));
  // Numbers and bigints compare with each other.
  return next < 2 ** bitsOf(network) ? next : undefined;
}
