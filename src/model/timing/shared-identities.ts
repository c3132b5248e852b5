/** Clocks with one identity (IEEE 1588-2008 §7.5.2.2: no two clocks have the same). */
import { groupBy } from '../../collections/group-by.js';
import { areSeveral, type Several } from '../../collections/non-empty.js';
import { byLabel } from '../../collections/order.js';
import { clocksByName } from './clocks-by-name.js';
import type { Clock, TimingState } from './timing.js';

export interface SharedIdentity {
  readonly identity: bigint;
  /** By name. */
  readonly clocks: Several<Clock>;
  /** Two of them stand where each could hear the other. */
  readonly meets: boolean;
}

/** Only where the plan states the identity of one: two that take it from one MAC are `hosts/duplicate-mac`. */
export function sharedIdentities(state: TimingState): readonly SharedIdentity[] {
  const known = state.clocks.filter(({ assumed }) => !assumed.has('identity'));
  const shared = [...groupBy(known, ({ quality }) => quality.identity)].flatMap(
    ([identity, own]): readonly SharedIdentity[] => {
      const clocks = clocksByName(own);
      if (!areSeveral(clocks) || clocks.every(({ settings }) => settings.clockIdentity === undefined)) return [];
      const islands = clocks.map((one) => state.islandOf(one));
      const meets = islands.some((one, index) => one !== undefined && islands.indexOf(one) !== index);
      return [{ identity, clocks, meets }];
    },
  );
  return byLabel(shared, ({ clocks: [first] }) => `${first.name} ${first.rig.name}`);
}
