/** Clocks that keep no time of a clock meant to lead (IEEE 1588-2008 §9.3.3: who is not heard cannot win). */
import { append } from '../../collections/group-by.js';
import { compareQualities } from './bmca.js';
import type { ClockRole } from './clock-role.js';
import type { Election } from './election.js';
import type { Clock, TimingState } from './timing.js';

/** Not meant to lead, and it keeps its own time or that of another such clock; or it only follows and follows nobody. */
export function isAdrift(role: ClockRole, grandmaster: Clock | undefined): boolean {
  if (role === 'waits' || role === 'outranks' || role === 'off') return true;
  return grandmaster?.meantToLead === false;
}

/** Those of elections that settle: one that never does proves nothing. In plan order. */
export function adriftClocks(state: TimingState): readonly Clock[] {
  const open = new Set(
    state.groups.filter(({ election }) => !election.settled).flatMap(({ election }) => [...election.outcomes.keys()]),
  );
  return state.clocks.filter(
    (clock) => !open.has(clock) && isAdrift(state.clockRoleOf(clock), state.outcomeOf(clock)?.grandmaster),
  );
}

/** Whose time the best Announce on each path brings, and the best of any other sender: no port takes its own clock's. */
export type OnPaths = (path: number, listener: Clock) => Clock | undefined;

export function announcedOnPaths({ outcomes }: Election<Clock>): OnPaths {
  const onPath = new Map<number, { readonly from: Clock; readonly source: Clock }[]>();
  for (const { clock, ports, grandmaster } of outcomes.values()) {
    ports.forEach(({ state }, index) => {
      const path = clock.ports[index]?.path;
      if (path === undefined || state !== 'master') return;
      append(onPath, path, { from: clock, source: grandmaster });
    });
  }
  return (path, listener) => {
    let best: Clock | undefined;
    for (const { from, source } of onPath.get(path) ?? []) {
      if (from === listener) continue;
      if (best === undefined || compareQualities(source.quality, best.quality).order < 0) best = source;
    }
    return best;
  };
}
