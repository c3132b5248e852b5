/** How long clocks take after a loss: one run tells little, so many starts are tried, and from the least to the most is said. */
import { append } from '../../../collections/group-by.js';
import type { ElectionClock } from '../announces.js';
import type { Span } from '../../../values/span.js';
import { draws } from './draws.js';
import { stoodOn, type TimedClock, type TimedEntry } from './memory.js';
import { inOrder } from './port-order.js';
import { simulate, type Run } from './simulate.js';

/** Whom a clock followed for a while, and what it has not kept. */
export interface Interim<C extends ElectionClock> {
  readonly grandmaster: C;
  readonly longestS: number;
  /** When it began to, over all starts. */
  readonly since: Span;
}

/** Whom a clock follows in the end; `parent` undefined: nobody. */
export interface Settled<C extends ElectionClock> {
  readonly parent: C | undefined;
  readonly grandmaster: C;
}

export interface LossTimes<C extends ElectionClock> {
  /** Until a clock follows whom it follows in the end, or leads: seconds; undefined where nothing changes for it. */
  readonly chosen: (clock: C) => Span | undefined;
  /** Until it first follows somebody else, or nobody; undefined where nothing changes for it. */
  readonly leaves: (clock: C) => Span | undefined;
  /** Undefined where starts end differently, or some did not end. */
  readonly ends: (clock: C) => Settled<C> | undefined;
  /** Until it first announces itself as grandmaster; undefined where it never does. */
  readonly speaks: (clock: C) => Span | undefined;
  /** Grandmasters in between, whom some start had it follow, longest first. */
  readonly between: (clock: C) => readonly Interim<C>[];
  /** The longest a start took in which an Announce of what is lost went round in a ring; undefined where none did. */
  readonly circlingS: number | undefined;
}

/** Few clocks are tried often, many less often: the work of one loss is bounded. */
const MOST_WORK = 12_800;
/** For a takeover; another path to the same grandmaster waits for less that is drawn. */
export const TAKEOVER_STARTS = 128;
export const REROUTE_STARTS = 24;
const LEAST_DRAWS = 8;
/** Of clocks that only follow and differ in nothing, so many stand for all. */
const STAND_FOR_ALL = 2;

/** @param opens When what is blocked at first opens, in seconds. */
export function timesOf<C extends TimedClock>(
  entries: readonly TimedEntry<C>[],
  mostStarts = TAKEOVER_STARTS,
  opens?: Span,
): LossTimes<C> {
  const { kept, standIns } = thinned(inOrder(entries));
  const count = Math.min(mostStarts, Math.max(LEAST_DRAWS, Math.floor(MOST_WORK / Math.max(1, kept.length))));
  const chosen = new Map<C, Span>();
  const speaks = new Map<C, Span>();
  const leaves = new Map<C, Span>();
  const ends = new Map<C, Settled<C> | 'open'>();
  const between = new Map<C, Interims<C>>();
  let circlingS: number | undefined;
  for (const random of draws(count)) {
    const opensS = opens && opens.fromS + random() * (opens.toS - opens.fromS);
    const run = simulate(kept, random, opensS);
    if (!run.settled || run.mostSteps > kept.length) circlingS = Math.max(circlingS ?? 0, lastChangeOf(run));
    for (const [clock, list] of run.changes) {
      const last = list.at(-1);
      if (last !== undefined) widen(chosen, clock, last.atS);
      const [first] = list;
      if (first !== undefined) widen(leaves, clock, first.atS);
      interims(run, clock, between);
    }
    for (const [clock, atS] of run.spokeS) widen(speaks, clock, atS);
    for (const [clock, { parent, grandmaster }] of run.last) {
      const known = ends.get(clock);
      const isSame =
        known === undefined || (known !== 'open' && known.parent === parent && known.grandmaster === grandmaster);
      if (!isSame || !run.settled) ends.set(clock, 'open');
      else if (known === undefined) ends.set(clock, { parent, grandmaster });
    }
  }
  const among = <T>(map: ReadonlyMap<C, T>, clock: C, join: (found: readonly T[]) => T): T | undefined => {
    const found = (standIns.get(clock) ?? [clock]).flatMap((one) => map.get(one) ?? []);
    return found.length === 0 ? undefined : join(found);
  };
  return {
    chosen: (clock) => among(chosen, clock, joined),
    leaves: (clock) => among(leaves, clock, joined),
    ends: (clock) => {
      const all = (standIns.get(clock) ?? [clock]).map((one) => ends.get(one));
      const [first] = all;
      if (first === undefined || first === 'open') return undefined;
      const alike = all.every(
        (one) => one !== 'open' && one?.parent === first.parent && one?.grandmaster === first.grandmaster,
      );
      if (all.every((one) => one !== 'open' && one?.parent === undefined))
        return { parent: undefined, grandmaster: clock };
      return alike ? first : undefined;
    },
    speaks: (clock) => speaks.get(clock),
    between: (clock) =>
      (standIns.get(clock) ?? [clock])
        .reduce<readonly Interim<C>[]>((all, one) => mergeInterims([...all, ...(between.get(one)?.values() ?? [])]), [])
        .toSorted((a, b) => b.longestS - a.longestS),
    circlingS,
  };
}

function lastChangeOf<C extends TimedClock>({ settled, endS, changes }: Run<C>): number {
  if (!settled) return endS;
  let last = 0;
  for (const list of changes.values()) last = Math.max(last, list.at(-1)?.atS ?? 0);
  return last;
}

function widen<C>(spans: Map<C, Span>, clock: C, atS: number): void {
  const known = spans.get(clock);
  spans.set(clock, known === undefined ? { fromS: atS, toS: atS } : joined([known, { fromS: atS, toS: atS }]));
}

/** From the least to the most of several. */
export function joined(spans: readonly Span[]): Span {
  return {
    fromS: Math.min(...spans.map(({ fromS }) => fromS)),
    toS: Math.max(...spans.map(({ toS }) => toS)),
  };
}

/** By grandmaster. */
type Interims<C extends ElectionClock> = Map<C, Interim<C>>;

/** One of each grandmaster. */
export function mergeInterims<C extends ElectionClock>(list: readonly Interim<C>[]): readonly Interim<C>[] {
  const all: Interims<C> = new Map();
  for (const one of list) addInterim(all, one);
  return [...all.values()];
}

function addInterim<C extends ElectionClock>(into: Interims<C>, { grandmaster, longestS, since }: Interim<C>): void {
  const known = into.get(grandmaster);
  into.set(grandmaster, {
    grandmaster,
    longestS: Math.max(known?.longestS ?? 0, longestS),
    since: known === undefined ? since : joined([known.since, since]),
  });
}

function interims<C extends TimedClock>(run: Run<C>, clock: C, into: Map<C, Interims<C>>): void {
  const list = run.changes.get(clock) ?? [];
  list.forEach(({ atS, grandmaster }, index) => {
    const next = list[index + 1];
    if (next === undefined || grandmaster === clock || grandmaster === run.last.get(clock)?.grandmaster) return;
    let own = into.get(clock);
    if (own === undefined) into.set(clock, (own = new Map<C, Interim<C>>()));
    addInterim(own, { grandmaster, longestS: next.atS - atS, since: { fromS: atS, toS: atS } });
  });
}

/** Followers that differ in nothing but their identity hear the same and disturb nobody. */
function thinned<C extends TimedClock>(
  entries: readonly TimedEntry<C>[],
): { readonly kept: readonly TimedEntry<C>[]; readonly standIns: ReadonlyMap<C, readonly C[]> } {
  const alike = new Map<string, TimedEntry<C>[]>();
  const leaders = {
    before: leadersOn(entries, 'before'),
    after: leadersOn(entries, 'after'),
    later: leadersOn(entries, 'later'),
  };
  const kept: TimedEntry<C>[] = [];
  const standIns = new Map<C, readonly C[]>();
  for (const entry of entries) {
    const { clock } = entry.outcome;
    if (!clock.slaveOnly || entry.isGone || entry.isUnheard === true) {
      kept.push(entry);
      continue;
    }
    const key = keyOf(entry, leaders);
    append(alike, key, entry);
  }
  for (const list of alike.values()) {
    const some = list.slice(0, STAND_FOR_ALL);
    kept.push(...some);
    for (const { outcome } of list)
      standIns.set(
        outcome.clock,
        some.map((one) => one.outcome.clock),
      );
  }
  return { kept, standIns };
}

/** Who may announce on each path, as a text. */
function leadersOn<C extends TimedClock>(entries: readonly TimedEntry<C>[], when: When): ReadonlyMap<number, string> {
  const on = new Map<number, number[]>();
  entries.forEach((entry, index) => {
    const { outcome, isGone, isUnheard, paths, later = paths } = entry;
    const { clock } = outcome;
    if (clock.slaveOnly || ((isGone || isUnheard === true) && when !== 'before')) return;
    clock.ports.forEach((_, port) => {
      const where = when === 'before' ? stoodOn(entry, port) : (when === 'after' ? paths : later)[port];
      if (where === undefined) return;
      append(on, where, index);
    });
  });
  return new Map([...on].map(([path, list]) => [path, list.join(' ')]));
}

/** Equal for followers that hear the same clocks, before and after, and decide alike. */
function keyOf<C extends TimedClock>(
  entry: TimedEntry<C>,
  leaders: Readonly<Record<When, ReadonlyMap<number, string>>>,
): string {
  const { outcome, paths, later = paths } = entry;
  const { clock, parent } = outcome;
  const { priority1, clockClass, clockAccuracy, offsetScaledLogVariance, priority2 } = clock.quality;
  const heardOn = (when: When, path: number | undefined): string | null =>
    path === undefined ? null : (leaders[when].get(path) ?? '');
  return JSON.stringify([
    clock.ports.map(({ masterOnly }, index) => [
      heardOn('before', stoodOn(entry, index)),
      masterOnly,
      heardOn('after', paths[index]),
      heardOn('later', later[index]),
    ]),
    parent?.through ?? -1,
    [priority1, clockClass, clockAccuracy, offsetScaledLogVariance, priority2],
    clock.logAnnounceInterval,
    clock.announceReceiptTimeout,
  ]);
}

type When = 'before' | 'after' | 'later';
