/** What clocks do when something that was lost is given back, once all have settled without it. */
import { append } from '../../collections/group-by.js';
import { clockMoments, type Before, type ClockMoment } from './clock-moments.js';
import type { ClockOwner } from './clocks.js';
import type { NamedLoss } from './failover.js';
import { pathsWithout } from './paths.js';
import { pathsOf, together } from './timed/after-loss.js';
import type { TimedEntry } from './timed/memory.js';
import { TAKEOVER_STARTS, timesOf } from './timed/spans.js';
import { goneWith, timingWithout, type Clock, type Outcome, type TimingBase, type TimingState } from './timing.js';

/**
 * Seconds after the return. A clock that comes back listens first, and nobody holds a record of it, nor it of anybody: three
 * Announces until it counts; where its record was kept, all is sooner by one.
 */
export function momentsOfReturn({ loss }: NamedLoss, base: TimingBase, whole: TimingState): readonly ClockMoment[] {
  const state = timingWithout(base, loss, whole);
  const stood = pathsWithout(base.topology, goneWith(loss));
  const runs = new Map<ClockOwner, Clock>(
    whole.clocks.map((clock) => {
      // Until it has its reference again it says what it said without.
      const quality = loss.classes?.has(clock.owner) === true ? state.clockOf(clock.owner)?.quality : undefined;
      return [clock.owner, quality === undefined ? clock : { ...clock, quality }];
    }),
  );
  const runOf = (clock: Clock): Clock => runs.get(clock.owner) ?? clock;
  const outcomes = new Map(whole.clocks.map((clock) => [runOf(clock), outcomeIn(state, clock, runOf)]));
  const groups = new Map<string, TimedEntry<Clock>[]>();
  for (const clock of whole.clocks) {
    const run = runOf(clock);
    const outcome = outcomes.get(run);
    if (outcome === undefined) continue;
    append(groups, `${String(clock.domain)} ${clock.transport}`, {
      outcome,
      isGone: false,
      quality: clock.quality,
      order: clock.ports.map((_, index) => index),
      stood: clock.ports.map(({ attachment }) => stood.get(attachment)),
      paths: pathsOf(clock, ({ path }) => path),
    });
  }
  const before: Before = {
    outcomeOf: (clock) => outcomes.get(clock),
    clockOf: (owner) => runs.get(owner),
    clockRoleOf: (clock) => {
      const standing = state.clockOf(clock.owner);
      return standing === undefined ? 'off' : state.clockRoleOf(standing);
    },
  };
  const classes = new Map(
    [...(loss.classes?.keys() ?? [])].flatMap((owner) => {
      const clock = whole.clockOf(owner);
      return clock === undefined ? [] : [[owner, clock.quality.clockClass] as const];
    }),
  );
  return clockMoments(
    { classes },
    {
      before,
      standing: { clocks: [...runs.values()], unheard: [], pathOf: ({ path }) => path },
      times: together([...groups.values()].map((entries) => timesOf(entries, TAKEOVER_STARTS))),
      electedFor: (clock) => {
        const outcome = whole.outcomeOf(whole.clockOf(clock.owner) ?? clock);
        if (outcome?.parent === undefined) return { parent: undefined, grandmaster: clock };
        return { parent: runOf(outcome.parent.clock), grandmaster: runOf(outcome.grandmaster) };
      },
    },
  );
}

/** How a clock of the whole plan stood in an election without something: as one that only listens where it was not there. */
function outcomeIn(state: TimingState, clock: Clock, runOf: (clock: Clock) => Clock): Outcome {
  const run = runOf(clock);
  const standing = state.clockOf(clock.owner);
  const outcome = standing === undefined ? undefined : state.outcomeOf(standing);
  const portOf = ({ ports }: Clock, of: Clock, index: number): number => {
    const attachment = of.ports[index]?.attachment;
    return ports.findIndex((one) => one.attachment === attachment);
  };
  const parent = outcome?.parent;
  const above = parent === undefined ? undefined : runOf(parent.clock);
  return {
    clock: run,
    ports: clock.ports.map((_, index) => {
      const at = standing === undefined ? -1 : portOf(standing, clock, index);
      return outcome?.ports[at] ?? { state: 'listening', decision: undefined };
    }),
    grandmaster: outcome === undefined ? run : runOf(outcome.grandmaster),
    stepsRemoved: outcome?.stepsRemoved ?? 0,
    parent:
      parent === undefined || above === undefined || standing === undefined
        ? undefined
        : {
            clock: above,
            port: portOf(above, parent.clock, parent.port),
            through: portOf(clock, standing, parent.through),
          },
  };
}
