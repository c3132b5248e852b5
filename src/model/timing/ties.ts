/** Grandmasters between which only the clock identity decides (IEEE 1588-2008 §9.3.4). */
import { groupBy } from '../../collections/group-by.js';
import type { NonEmpty } from '../../collections/non-empty.js';
import { byLabel } from '../../collections/order.js';
import { agreedLists, isAgreed } from './agreement.js';
import { clocksByName } from './clocks-by-name.js';
import { intendedLeaders } from './intent.js';
import type { Clock, Island } from './timing.js';

/** Clocks meant to lead that tie, in the order of the first list of joined rigs that names all of them, else by name. */
export function tiedLeaders(island: Island): readonly NonEmpty<Clock>[] {
  return [...groupBy(intendedLeaders(island), claimOf).values()]
    .filter((tied) => tied.length > 1 && !isLeftOpen(island, tied))
    .map((tied) => inAgreedOrder(island, clocksByName(tied)));
}

/** Everything the election asks before the identity. */
function claimOf({ quality }: Clock): string {
  const { priority1, clockClass, clockAccuracy, offsetScaledLogVariance, priority2 } = quality;
  return [priority1, clockClass, clockAccuracy, offsetScaledLogVariance, priority2].join(' ');
}

/** One of each of several rigs that have not agreed who leads: `timing/leader-not-agreed`. */
function isLeftOpen(island: Island, tied: readonly Clock[]): boolean {
  const rigs = new Set(tied.map(({ rig }) => rig));
  return rigs.size === tied.length && !isAgreed(island, rigs);
}

function inAgreedOrder(island: Island, clocks: NonEmpty<Clock>): NonEmpty<Clock> {
  const list = agreedLists(island).find(({ grandmasters }) =>
    clocks.every(({ owner }) => grandmasters.includes(owner)),
  );
  return list === undefined ? clocks : byLabel(clocks, ({ owner }) => String(list.grandmasters.indexOf(owner)));
}
