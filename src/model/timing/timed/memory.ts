/** What clocks of a timed run remember: foreign masters by port, port states, whom they follow (IEEE 1588-2008 §9.3.2.4). */
import type { ElectionClock } from '../announces.js';
import { compareDataSets, ownDataSet, type ClockQuality, type DataSet } from '../bmca.js';
import type { ClockOutcome } from '../election.js';

/** A clock with what decides when it speaks and how long it waits. */
export interface TimedClock extends ElectionClock {
  readonly logAnnounceInterval: number;
  readonly announceReceiptTimeout: number;
}

/** A clock as it stood, and what the loss leaves of it. */
export interface TimedEntry<C extends TimedClock> {
  readonly outcome: ClockOutcome<C>;
  readonly isGone: boolean;
  /** It stands, and none of the others hears it any more: it only was the master of one. */
  readonly isUnheard?: boolean;
  /** After the loss: another class where a reference is what is lost. */
  readonly quality: ClockQuality;
  /** Its ports, by index, in the order in which they decide, or in the reverse of it. */
  readonly order: readonly number[];
  /** By port: the path it stood on; that of the clock where not said. */
  readonly stood?: readonly (number | undefined)[];
  /** By port: the path it is on after the loss; undefined where its carrier is gone. */
  readonly paths: readonly (number | undefined)[];
  /** By port: the path it is on once what is blocked at first has opened; as at first where not said. */
  readonly later?: readonly (number | undefined)[];
}

/** Whom a clock follows from a time on; undefined: it leads, or keeps its own time. */
export interface Change<C extends TimedClock> {
  readonly atS: number;
  readonly parent: C | undefined;
  readonly grandmaster: C;
}

/** FOREIGN_MASTER_TIME_WINDOW, in announce intervals of the receiver (IEEE 1588-2008 §9.3.2.4.4). */
const WINDOW = 4;
export type State = 'listening' | 'slave' | 'passive' | 'pre-master' | 'master' | 'faulty';

export interface Content<C extends TimedClock> {
  readonly grandmaster: ClockQuality;
  readonly source: C;
  readonly stepsRemoved: number;
}

/** What a port holds of one sender: its two newest Announces, the older first. */
export interface Row<C extends TimedClock> {
  times: number[];
  newest: Content<C> | undefined;
}

export interface Port<C extends TimedClock> {
  readonly owner: Runner<C>;
  readonly number: number;
  path: number | undefined;
  /** It stood on no path: nobody holds a record of it, nor it of anybody. */
  readonly isFresh: boolean;
  readonly hears: boolean;
  readonly rows: Map<Port<C>, Row<C>>;
  /** Its best sender, for as long as nobody is heard and no Announce grows too old. */
  known: { readonly best: Heard<C> | undefined; readonly untilS: number } | undefined;
  state: State;
  best: Port<C> | undefined;
  /** Beats and qualifications that were set before the newest state mean nothing any more. */
  setting: number;
  /** When the receipt timeout ends, and when that is looked at next: no later, and often before, as each Announce moves it. */
  deadlineS: number;
  watchedS: number;
}

export interface Runner<C extends TimedClock> {
  readonly clock: C;
  readonly own: DataSet;
  readonly intervalS: number;
  readonly timeout: number;
  readonly ports: Port<C>[];
  readonly order: readonly number[];
  /** The order of this run, or its reverse. */
  turn: readonly number[];
  parent: { readonly from: Port<C>; readonly through: Port<C>; content: Content<C> } | undefined;
  changes: Change<C>[];
  /** When it first announced itself as grandmaster, after the loss. */
  spokeS: number | undefined;
}

/** Forgets Announces older than the window. */
function prune<C extends TimedClock>(row: Row<C>, { owner }: Port<C>, atS: number): void {
  const oldest = atS - WINDOW * owner.intervalS;
  while ((row.times[0] ?? atS) < oldest) row.times.shift();
}

/** Enters an Announce; how many of the sender there were in the window before it. */
export function enter<C extends TimedClock>(row: Row<C>, port: Port<C>, content: Content<C>, atS: number): number {
  prune(row, port, atS);
  port.known = undefined;
  const had = row.times.length;
  row.times.push(atS);
  if (row.times.length > 2) row.times.shift();
  row.newest = content;
  return had;
}

/** A sender, with what it says as a port hears it. */
export interface Heard<C extends TimedClock> {
  readonly from: Port<C>;
  readonly data: DataSet;
}

/** The best sender of a port; those that lose to it on the way have to qualify again. */
export function bestOf<C extends TimedClock>(port: Port<C>, atS: number): Heard<C> | undefined {
  // A spine with hundreds of ports decides whenever one of them hears something new.
  if (port.known !== undefined && atS <= port.known.untilS) return port.known.best;
  let best: { readonly from: Port<C>; readonly row: Row<C>; readonly data: DataSet } | undefined;
  for (const [from, row] of port.rows) {
    prune(row, port, atS);
    if (row.times.length < 2 || row.newest === undefined) continue;
    const data = heardAs(row.newest, from, port);
    if (best === undefined || compareDataSets(data, best.data).better === 'first') best = { from, row, data };
    else row.times = [];
  }
  const oldestS = best?.row.times[0];
  port.known = { best, untilS: oldestS === undefined ? Infinity : oldestS + WINDOW * port.owner.intervalS };
  return best;
}

/** The best of all ports of a clock, and what each hears. */
export function hearAll<C extends TimedClock>(
  { ports }: Runner<C>,
  atS: number,
): { readonly heard: readonly (DataSet | undefined)[]; readonly through: number | undefined } {
  const heard = ports.map((port) => {
    const found = port.path === undefined || !port.hears ? undefined : bestOf(port, atS);
    port.best = found?.from;
    return found?.data;
  });
  let through: number | undefined;
  heard.forEach((data, index) => {
    const best = through === undefined ? undefined : heard[through];
    if (data !== undefined && (best === undefined || compareDataSets(data, best).better === 'first')) through = index;
  });
  return { heard, through };
}

/** Whom it follows at a time. */
export function stateOf<C extends TimedClock>({ clock, parent }: Runner<C>, atS: number): Change<C> {
  return { atS, parent: parent?.from.owner.clock, grandmaster: parent?.content.source ?? clock };
}

/** The path a port stood on. */
export function stoodOn<C extends TimedClock>({ outcome, stood }: TimedEntry<C>, index: number): number | undefined {
  return stood === undefined ? outcome.clock.ports[index]?.path : stood[index];
}

export function runnerOf<C extends TimedClock>(entry: TimedEntry<C>): Runner<C> {
  const { outcome, quality, order, paths } = entry;
  const { clock } = outcome;
  const ports: Port<C>[] = [];
  const runner: Runner<C> = {
    clock,
    own: ownDataSet(quality),
    intervalS: 2 ** clock.logAnnounceInterval,
    timeout: clock.announceReceiptTimeout,
    ports,
    order,
    turn: order,
    parent: undefined,
    changes: [],
    spokeS: undefined,
  };
  const wanted = entry.isUnheard === true ? order : clock.ports.keys();
  for (const index of wanted) {
    const { masterOnly } = clock.ports[index] ?? { masterOnly: false };
    ports[index] = {
      owner: runner,
      number: index + 1,
      path: paths[index],
      isFresh: stoodOn(entry, index) === undefined,
      hears: !masterOnly,
      rows: new Map(),
      known: undefined,
      state: 'listening',
      best: undefined,
      setting: 0,
      deadlineS: 0,
      watchedS: Infinity,
    };
  }
  return runner;
}

export function standingContent<C extends TimedClock>({
  clock,
  grandmaster,
  stepsRemoved,
}: ClockOutcome<C>): Content<C> {
  return {
    grandmaster: grandmaster.quality,
    source: grandmaster,
    stepsRemoved: grandmaster === clock ? 0 : stepsRemoved,
  };
}

function heardAs<C extends TimedClock>({ grandmaster, stepsRemoved }: Content<C>, from: Port<C>, to: Port<C>): DataSet {
  return {
    grandmaster,
    stepsRemoved,
    sender: { clock: from.owner.clock.quality.identity, port: from.number },
    receiver: { clock: to.owner.clock.quality.identity, port: to.number },
  };
}

export function isSame<C extends TimedClock>(a: Content<C>, b: Content<C>): boolean {
  return a.stepsRemoved === b.stepsRemoved && a.grandmaster === b.grandmaster;
}
