/** The clocks of a plan as a timed run takes them: the tree as it stands, and what a loss leaves of it. */
import { append } from '../../../collections/group-by.js';
import type { ClockPort, Clock, Loss, TimingState } from '../timing.js';
import type { Span } from '../../../values/span.js';
import type { TimedEntry } from './memory.js';
import { timesOf, type LossTimes } from './spans.js';

/** Which clocks a run has to hold, and where their ports are after the loss. */
export interface Standing {
  /** In plan order, those that are gone among them. */
  readonly clocks: readonly Clock[];
  /** Those that stand and that none of the others hears any more: they were masters of some. */
  readonly unheard: readonly Clock[];
  readonly pathOf: (port: ClockPort) => number | undefined;
  /**
   * Where ports are at first, and when that is over: a spanning tree has to open links. `stoodOn`: where they were before;
   * undefined for those that heard nobody.
   */
  readonly meanwhile?:
    { readonly stoodOn: Standing['pathOf']; readonly pathOf: Standing['pathOf']; readonly opens: Span } | undefined;
}

/**
 * Times after a loss, in seconds from the last Announce of what is lost, or from the loss itself where it leaves all clocks
 * running. A box that is lost falls silent while its links stay up: where the carrier goes with it, its neighbours know at
 * once, and all is sooner by the receipt timeout.
 */
export function timesAfter(
  { owners, classes }: Loss,
  whole: TimingState,
  standing: Standing,
  starts: number,
): LossTimes<Clock> {
  const groups = new Map<string, TimedEntry<Clock>[]>();
  const { meanwhile } = standing;
  const unheard = new Set(standing.unheard);
  for (const clock of [...standing.clocks, ...unheard]) {
    const outcome = whole.outcomeOf(clock);
    if (outcome === undefined) continue;
    const clockClass = classes?.get(clock.owner);
    const isGone = owners?.has(clock.owner) === true;
    const entry: TimedEntry<Clock> = {
      outcome,
      isGone,
      isUnheard: unheard.has(clock),
      quality: clockClass === undefined ? clock.quality : { ...clock.quality, clockClass },
      order: clock.ports.map((_, index) => index),
      paths: pathsOf(clock, meanwhile?.pathOf ?? standing.pathOf),
      ...(meanwhile === undefined
        ? {}
        : { stood: clock.ports.map(meanwhile.stoodOn), later: pathsOf(clock, standing.pathOf) }),
    };
    append(groups, `${String(clock.domain)} ${clock.transport}`, entry);
  }
  return together([...groups.values()].map((entries) => timesOf(entries, starts, meanwhile?.opens)));
}

/** Times of clocks that do not hear each other's PTP. */
export function together(all: readonly LossTimes<Clock>[]): LossTimes<Clock> {
  const circling = all.flatMap(({ circlingS }) => circlingS ?? []);
  return {
    chosen: (clock) => first(all, (one) => one.chosen(clock)),
    leaves: (clock) => first(all, (one) => one.leaves(clock)),
    ends: (clock) => first(all, (one) => one.ends(clock)),
    speaks: (clock) => first(all, (one) => one.speaks(clock)),
    between: (clock) => all.flatMap((one) => one.between(clock)),
    circlingS: circling.length === 0 ? undefined : Math.max(...circling),
  };
}

/** A second port on one path hears its own clock and plays no part. */
export function pathsOf(
  { ports }: Clock,
  pathOf: (port: ClockPort) => number | undefined,
): readonly (number | undefined)[] {
  const seen = new Set<number>();
  return ports.map((port) => {
    const path = pathOf(port);
    if (path === undefined || seen.has(path)) return undefined;
    seen.add(path);
    return path;
  });
}

function first<T, U>(list: readonly T[], ask: (one: T) => U | undefined): U | undefined {
  for (const one of list) {
    const found = ask(one);
    if (found !== undefined) return found;
  }
  return undefined;
}
