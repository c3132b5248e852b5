import { formatRange, type Address, type AddressRange } from '../../values/address.js';
import type { Plan, Rig } from '../../plan/types.js';
import { aliasedClockGroup, ethernetAddress, floodedEthernetAddress, groupFitness } from '../groups/index.js';

/** Further than this no free group is looked for: a block so full wants a person's decision. */
const MOST_TRIES = 100_000;

/**
 * Hands out groups nobody in the plan uses, each once, the lowest first: usable ones whose multicast MAC no group of
 * the plan shares, so that a mend makes no new fault. Undefined when the ranges hold none. What it hands out it adds to
 * `offered`, and keeps off what others put there.
 */
export function freeGroups(
  plan: Plan,
  offered: Map<Address, unknown>,
): (rig: Rig, ranges: readonly AddressRange[]) => Address | undefined {
  let taken: Set<number> | undefined;
  const cursors = new Map<string, Address>();
  return (rig, ranges) => {
    taken ??= new Set(plan.legs.flatMap((leg) => (leg.group === undefined ? [] : [ethernetAddress(leg.group)])));
    for (const range of ranges) {
      const key = formatRange(range);
      let at = cursors.get(key) ?? range.first;
      for (let tries = 0; at <= range.last && tries < MOST_TRIES; tries++, at = next(at)) {
        if (offered.has(at) || !free(at, rig, taken)) continue;
        offered.set(at, undefined);
        taken.add(ethernetAddress(at));
        cursors.set(key, next(at));
        return at;
      }
      cursors.set(key, at);
    }
    return undefined;
  };
}

function free(group: Address, rig: Rig, taken: ReadonlySet<number>): boolean {
  if (taken.has(ethernetAddress(group)) || floodedEthernetAddress(group)) return false;
  if (typeof group === 'number' && ((group & 0xff) === 0 || aliasedClockGroup(group) !== undefined)) return false;
  return groupFitness(group, rig.conventions, rig.practice) === 'usable';
}

function next(address: Address): Address {
  return typeof address === 'number' ? address + 1 : address + 1n;
}
