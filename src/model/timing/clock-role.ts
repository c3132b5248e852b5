/** What became of each clock, and why whoever leads does. */
import { compareQualities, type Step } from './bmca.js';
import type { ClockOutcome, Election, ElectionClock } from './election.js';

/**
 * `leads`: others keep its time. `follows`: it keeps another's. `passive`: it hears a better clock and may not follow
 * it, so it keeps its own time. `alone`: it would lead, and nobody follows. `waits`: it only follows, and hears nobody.
 * `outranks`: it only follows, but its own values beat whatever it hears, so it never does. `off`: it is cut off.
 */
export type ClockRole = 'leads' | 'follows' | 'passive' | 'alone' | 'waits' | 'outranks' | 'off';

/** Who follows each clock directly. */
export function followersOf<C extends ElectionClock>(
  election: Election<C>,
): ReadonlyMap<C, readonly ClockOutcome<C>[]> {
  const found = new Map<C, ClockOutcome<C>[]>();
  for (const outcome of election.outcomes.values()) {
    const parent = outcome.parent?.clock;
    if (parent === undefined) continue;
    const list = found.get(parent);
    if (list === undefined) found.set(parent, [outcome]);
    else list.push(outcome);
  }
  return found;
}

export function clockRoleOf<C extends ElectionClock>(outcome: ClockOutcome<C>, isFollowed: boolean): ClockRole {
  if (outcome.parent !== undefined) return 'follows';
  if (outcome.ports.length === 0) return 'off';
  if (isFollowed) return 'leads';
  if (outcome.clock.slaveOnly) return outcome.ports.some((port) => port.decision === 'M2') ? 'outranks' : 'waits';
  return outcome.ports.some((port) => port.state === 'passive') ? 'passive' : 'alone';
}

/** Clocks that any chain of paths joins, whoever may lead whom. */
export function islandsOf<C extends ElectionClock>(clocks: readonly C[]): readonly (readonly C[])[] {
  const onPath = new Map<number, C[]>();
  for (const clock of clocks) {
    for (const { path } of clock.ports) {
      const list = onPath.get(path);
      if (list === undefined) onPath.set(path, [clock]);
      else list.push(clock);
    }
  }
  const seen = new Set<C>();
  const islands: C[][] = [];
  for (const start of clocks) {
    if (seen.has(start)) continue;
    seen.add(start);
    const island = [start];
    for (const clock of island) {
      for (const { path } of clock.ports) {
        for (const other of onPath.get(path) ?? []) {
          if (seen.has(other)) continue;
          seen.add(other);
          island.push(other);
        }
        // Visited once: a path of thousands must not be walked for each of its clocks.
        onPath.delete(path);
      }
    }
    islands.push(island);
  }
  return islands;
}

/** Why a clock leads: the next best claim in reach, and the first value in which they differ. */
export interface Reason<C extends ElectionClock> {
  readonly rival: C;
  readonly step: Step;
  /** The rival's claim is the better one, but it does not reach: a port only leads, or a class may not follow. */
  readonly rivalIsBetter: boolean;
}

/** Undefined when nobody else could lead. */
export function reasonOf<C extends ElectionClock>(leader: C, island: readonly C[]): Reason<C> | undefined {
  let rival: C | undefined;
  for (const clock of island) {
    if (clock === leader || clock.slaveOnly) continue;
    if (rival === undefined || compareQualities(clock.quality, rival.quality).order < 0) rival = clock;
  }
  if (rival === undefined) return undefined;
  const { order, step } = compareQualities(leader.quality, rival.quality);
  return { rival, step, rivalIsBetter: order > 0 };
}
