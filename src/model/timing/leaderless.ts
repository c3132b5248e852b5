/** Clocks that only follow, with nobody in reach to lead them (IEEE 1588-2008 §9.2.2). */
import { isNonEmpty, type NonEmpty } from '../../collections/non-empty.js';
import type { Timing } from './build-timing.js';
import { clocksByName } from './clocks-by-name.js';
import { isPlaced, settledIslands } from './intent.js';
import type { Clock, Island, TimingGroup } from './timing.js';
import { splitByTransport } from './ways.js';

export interface Leaderless {
  readonly group: TimingGroup;
  /** By name. */
  readonly clocks: NonEmpty<Clock>;
  /** The domain has other clocks, out of their reach. */
  readonly others: boolean;
}

/** One a domain when it has no leader at all; else one an island that no leader reaches. */
export function leaderless(timing: Timing): readonly Leaderless[] {
  const settled = new Set(settledIslands(timing));
  // The cause of these is a finding of its own.
  const cut = new Set([...splitByTransport(timing).flatMap((split) => split.cut), ...timing.barriers.explained]);
  return timing.groups.flatMap((group): readonly Leaderless[] => {
    const all = [...group.election.outcomes.keys()];
    const of = (clocks: readonly Clock[]): readonly Leaderless[] =>
      isNonEmpty(clocks) ? [{ group, clocks: clocksByName(clocks), others: all.length > clocks.length }] : [];
    if (all.every(({ slaveOnly }) => slaveOnly)) return of(all.filter((one) => one.ports.length > 0 && !cut.has(one)));
    // A leader whose place is not stated may stand on any island.
    if (all.some((one) => !one.slaveOnly && !isPlaced(one))) return [];
    return group.islands
      .filter((island) => settled.has(island) && isLeaderless(island) && !island.clocks.every((one) => cut.has(one)))
      .flatMap(({ clocks }) => of(clocks));
  });
}

function isLeaderless({ clocks }: Island): boolean {
  return clocks.every((one) => one.slaveOnly && isPlaced(one));
}
