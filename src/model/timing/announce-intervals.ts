/** Clocks of an island whose announce interval is not that of the others (SMPTE ST 2059-2 §6.7.2). */
import { groupBy } from '../../collections/group-by.js';
import { isNonEmpty, type NonEmpty } from '../../collections/non-empty.js';
import { clocksByName } from './clocks-by-name.js';
import type { Timing } from './build-timing.js';
import type { Clock, Island } from './timing.js';

export interface OddIntervals {
  /** By name. */
  readonly odd: NonEmpty<Clock>;
  /** logAnnounceInterval of the others. */
  readonly usual: number;
  /** Clocks that give up between two Announces because their own interval is not their leader's; by name. */
  readonly hasty: readonly Clock[];
}

/** Only of clocks that state their interval and stand on the island. */
export function oddAnnounceIntervals({ clocks, leaders }: Island, { impatient }: Timing): OddIntervals | undefined {
  const known = clocks.filter(({ assumed, ports }) => !assumed.has('logAnnounceInterval') && ports.length > 0);
  const byInterval = groupBy(known, ({ logAnnounceInterval }) => logAnnounceInterval);
  if (byInterval.size < 2) return undefined;
  const usual = usualInterval(byInterval, leaders[0]?.clock);
  const odd = clocksByName(known.filter(({ logAnnounceInterval }) => logAnnounceInterval !== usual));
  // A timeout too short at the parent's own interval is `timing/interval-out-of-profile`.
  const hasty = new Set(
    impatient.flatMap(({ tolerance, follower, parent }) =>
      tolerance === 'expires' && follower.logAnnounceInterval !== parent.logAnnounceInterval ? [follower] : [],
    ),
  );
  return isNonEmpty(odd) ? { odd, usual, hasty: clocksByName(known.filter((one) => hasty.has(one))) } : undefined;
}

/** What most have; the leader's where two are equally usual. */
function usualInterval(byInterval: ReadonlyMap<number, readonly Clock[]>, leader: Clock | undefined): number {
  const own = leader?.logAnnounceInterval;
  const [most] = [...byInterval].sort(
    ([a, x], [b, y]) => y.length - x.length || Number(b === own) - Number(a === own) || a - b,
  );
  return most?.[0] ?? 0;
}
