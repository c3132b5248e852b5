/**
 * Longer than other files: one run is one closure over its heap, clocks and paths.
 *
 * One run of the planned clocks in time, as far as announcing goes: from the tree as it stands, something is lost, and
 * Announces, timeouts and state decisions follow one another until nothing changes any more.
 *
 * The clauses of IEEE 1588-2008: foreign masters and two Announces to qualify (§9.3.2.4.5, §9.3.2.5 c), the receipt timeout
 * of N intervals plus a random part of one more (§9.2.6.11), PRE_MASTER of nothing after M1 and M2 and of
 * (stepsRemoved + 1) intervals after M3 (§9.2.6.10, from memory), losers on a port qualify again (§9.3.2.3 b), 255 steps at
 * most (§9.3.2.5 d). What the standard leaves open is as linuxptp 3.1.1 does it: the first Announce of a sender never heard
 * before does not count, ports decide one after another, a port that leads keeps its beat. Not in it: Sync and delay, the servo,
 * and what switch ports do when a link comes up.
 */
import { append } from '../../../collections/group-by.js';
import { pop, push, type Heap } from '../../../collections/heap.js';
import { MOST_STEPS } from '../announces.js';
import { compareDataSets, decideState } from '../bmca.js';
import {
  bestOf,
  enter,
  hearAll,
  isSame,
  runnerOf,
  standingContent,
  stateOf,
  stoodOn,
  type Change,
  type Content,
  type Port,
  type Runner,
  type State,
  type TimedClock,
  type TimedEntry,
} from './memory.js';

export interface Run<C extends TimedClock> {
  /** By clock that stands, in the order of time. */
  readonly changes: ReadonlyMap<C, readonly Change<C>[]>;
  /** Who follows whom at the end. */
  readonly last: ReadonlyMap<C, Change<C>>;
  /** When clocks first announced themselves as grandmaster after the loss. */
  readonly spokeS: ReadonlyMap<C, number>;
  /** False when something still changed at the end of the time given. */
  readonly settled: boolean;
  /** The most steps anybody stood from a grandmaster: more than there are clocks where an Announce went round. */
  readonly mostSteps: number;
  readonly endS: number;
}

/** From 0 to 1, both possible. */
export type Random = () => number;

/** An Announce is there half a millisecond after it was sent; a port that takes the lead speaks after one. */
const TRAVEL_S = 0.0005;
const FIRST_S = 0.001;
/** Longer than any Announce circles: 255 steps, each within an interval, and a timeout. */
const MOST_INTERVALS = 400;

/** How often a sender that did not lead when the loss came had been heard before, say at power-up: an assumption. */
const KNOWN = 0.75;
const WAITING: ReadonlySet<State> = new Set<State>(['listening', 'slave', 'passive']);

function stands({ isGone, isUnheard }: Pick<TimedEntry<TimedClock>, 'isGone' | 'isUnheard'>): boolean {
  return !isGone && isUnheard !== true;
}

function forget<C extends TimedClock>(port: Port<C>): void {
  port.rows.clear();
  port.known = undefined;
}

/** A port that led when the loss came, and when it was last heard. */
interface Standing<C extends TimedClock> {
  readonly port: Port<C>;
  readonly content: Content<C>;
  readonly lastS: number;
}

interface Event<C extends TimedClock> {
  /**
   * `told`: at the loss the clock itself knows of it, by a carrier that is gone or a reference. `opens`: what was blocked at
   * first passes messages, for all ports at once.
   */
  readonly kind: 'announce' | 'receipt timeout' | 'qualified' | 'told' | 'opens';
  readonly port: Port<C>;
  readonly setting: number;
  readonly atS: number;
}

/**
 * The run after a loss. Time starts at the last Announce of what is gone, or at the loss where nothing is.
 * @param opensS When what is blocked at first opens, in seconds.
 * @param random Phases of the beats, random parts of timeouts, and which senders a port has heard before.
 */
export function simulate<C extends TimedClock>(
  entries: readonly TimedEntry<C>[],
  random: Random,
  opensS?: number,
): Run<C> {
  const heap: Heap<Event<C>> = { keys: [], values: [] };
  const runners = new Map(entries.filter(stands).map((entry) => [entry.outcome.clock, runnerOf(entry)]));
  const onPath = new Map<number, Port<C>[]>();
  meet();
  let lastChangeS = 0;
  let most = 0;
  let [longestS, intervalS] = [0, 0];
  for (const runner of runners.values()) {
    longestS = Math.max(longestS, runner.intervalS * (runner.timeout + 1));
    intervalS = Math.max(intervalS, runner.intervalS);
  }
  const mostS = (opensS ?? 0) + intervalS * MOST_INTERVALS;

  stand();
  let nowS = 0;
  for (;;) {
    const event = pop(heap);
    if (event === undefined) break;
    nowS = event.atS;
    // Nothing waits longer: a receipt timeout, then PRE_MASTER by the steps there are, then two Announces.
    if (nowS > mostS || nowS > Math.max(lastChangeS, opensS ?? 0) + longestS + intervalS * (most + 5)) break;
    happen(event);
  }
  const settled = nowS <= mostS;
  return {
    settled,
    mostSteps: most,
    endS: nowS,
    changes: new Map([...runners].map(([clock, { changes }]) => [clock, changes])),
    last: new Map([...runners].map(([clock, runner]) => [clock, stateOf(runner, nowS)])),
    spokeS: new Map([...runners].flatMap(([clock, { spokeS }]) => (spokeS === undefined ? [] : [[clock, spokeS]]))),
  };

  /** Which ports hear each other. */
  function meet(): void {
    onPath.clear();
    for (const { ports } of runners.values())
      for (const port of ports) if (port.path !== undefined) append(onPath, port.path, port);
  }

  /** Ports that get a carrier listen; those that led before nobody speak again. */
  function open(atS: number): void {
    const silent = [...onPath.values()].flatMap((ports) => (ports.length < 2 ? ports : []));
    for (const { outcome, paths, later = paths } of entries)
      runners.get(outcome.clock)?.ports.forEach((port, index) => {
        port.path = later[index];
        if (port.state !== 'faulty' || port.path === undefined) return;
        port.state = 'listening';
        wait(port, atS);
      });
    meet();
    for (const port of silent) if (port.state === 'master') beat(port, atS + random() * port.owner.intervalS);
  }

  /** The tree as it stood, with every beat somewhere in its interval, and what the loss does at once. */
  function stand(): void {
    let willOpen = false;
    const leading = new Map<number, Standing<C>[]>();
    const byClock = new Map(entries.map((entry) => [entry.outcome.clock, entry]));
    const phases = new Map<C, number>();
    /**
     * When a clock's ports beat, in seconds after the loss. Half of them keep the beat of whom they follow, as ports that
     * took the lead upon an Announce do; the others took it when a timeout was over.
     */
    const phaseOf = ({ outcome: { clock, parent }, isGone }: TimedEntry<C>): number => {
      let phase = phases.get(clock);
      if (phase !== undefined) return phase;
      const above = parent === undefined ? undefined : byClock.get(parent.clock);
      phase = isGone ? 0 : random() * 2 ** clock.logAnnounceInterval;
      phases.set(clock, phase);
      if (!isGone && above !== undefined && random() < 0.5) {
        phase = (phaseOf(above) + TRAVEL_S + FIRST_S) % 2 ** clock.logAnnounceInterval;
        phases.set(clock, phase);
      }
      return phase;
    };
    for (const entry of entries) {
      const { outcome, isGone, ...rest } = entry;
      const content = standingContent(outcome);
      const runner = runners.get(outcome.clock) ?? runnerOf({ outcome, isGone, ...rest });
      // Ports that took the lead in one decision beat together, those that timed out one by one do not.
      const together = random() < 0.75 ? phaseOf({ outcome, isGone, ...rest }) : undefined;
      for (const index of rest.order) {
        const [path, port] = [stoodOn(entry, index), runner.ports[index]];
        if (path === undefined || port === undefined || outcome.ports[index]?.state !== 'master') continue;
        const nextS = together ?? random() * runner.intervalS;
        if (stands(entry) && port.path !== undefined) beat(port, nextS);
        if (content.stepsRemoved < MOST_STEPS)
          append(leading, path, { port, content, lastS: isGone ? 0 : nextS - runner.intervalS });
      }
    }
    for (const entry of entries) {
      const { outcome, quality } = entry;
      const runner = runners.get(outcome.clock);
      if (runner === undefined) continue;
      // Nobody knows in which order a clock walks its ports.
      runner.turn = random() < 0.5 ? runner.order : runner.order.toReversed();
      for (const index of runner.order) {
        const [path, port, state] = [stoodOn(entry, index), runner.ports[index], outcome.ports[index]?.state];
        if (port === undefined || state === undefined) continue;
        for (const { port: from, content, lastS } of path === undefined ? [] : (leading.get(path) ?? []))
          if (from.owner.clock !== runner.clock && port.hears)
            port.rows.set(from, { times: [lastS - from.owner.intervalS, lastS], newest: content });
        port.best = bestOf(port, 0)?.from;
        const row = port.best === undefined ? undefined : port.rows.get(port.best);
        if (outcome.parent?.through === index && port.best !== undefined && row?.newest !== undefined)
          runner.parent = { from: port.best, through: port, content: row.newest };
        port.state = port.path === undefined ? 'faulty' : state;
        if (port.state !== 'master' && port.state !== 'faulty') wait(port, row?.times[1] ?? 0);
      }
      const isTold = runner.ports.some(({ state }) => state === 'faulty') || quality !== outcome.clock.quality;
      const [first] = runner.ports;
      if (isTold && first !== undefined) push(heap, 0, { kind: 'told', port: first, setting: 0, atS: 0 });
      if (opensS !== undefined && first !== undefined && !willOpen) {
        willOpen = true;
        push(heap, opensS, { kind: 'opens', port: first, setting: 0, atS: opensS });
      }
    }
  }

  function happen({ kind, port, setting, atS }: Event<C>): void {
    switch (kind) {
      case 'opens':
        open(atS);
        return;
      case 'told':
        for (const one of port.owner.ports) if (one.state === 'faulty') forget(one);
        decide(port.owner, atS);
        return;
      case 'announce':
        if (setting !== port.setting || port.state !== 'master') return;
        announce(port, atS);
        beat(port, atS + port.owner.intervalS);
        return;
      case 'qualified':
        if (setting === port.setting && port.state === 'pre-master') lead(port, atS);
        return;
      case 'receipt timeout':
        if (atS !== port.watchedS) return;
        port.watchedS = Infinity;
        if (!WAITING.has(port.state)) return;
        if (atS < port.deadlineS) {
          watch(port);
          return;
        }
        if (port.best !== undefined) {
          port.rows.set(port.best, { times: [], newest: undefined });
          port.known = undefined;
        }
        wait(port, atS);
        if (!port.owner.clock.slaveOnly) lead(port, atS);
        decide(port.owner, atS);
    }
  }

  function beat(port: Port<C>, atS: number): void {
    // Where nobody else is, nobody hears it.
    if (port.path === undefined || (onPath.get(port.path)?.length ?? 0) < 2) return;
    push(heap, atS, { kind: 'announce', port, setting: port.setting, atS });
  }

  /** A receipt timeout from now on, with a random part of its own. */
  function wait(port: Port<C>, atS: number): void {
    port.deadlineS = atS + port.owner.intervalS * (port.owner.timeout + random());
    watch(port);
  }

  function watch(port: Port<C>): void {
    if (port.watchedS <= port.deadlineS) return;
    port.watchedS = port.deadlineS;
    push(heap, port.deadlineS, { kind: 'receipt timeout', port, setting: 0, atS: port.deadlineS });
  }

  function lead(port: Port<C>, atS: number): void {
    if (port.state === 'master') return;
    port.state = 'master';
    port.best = undefined;
    port.setting++;
    beat(port, atS + FIRST_S);
  }

  function announce(from: Port<C>, atS: number): void {
    const { parent, clock } = from.owner;
    const content: Content<C> =
      parent === undefined
        ? { grandmaster: from.owner.own.grandmaster, source: clock, stepsRemoved: 0 }
        : { ...parent.content, stepsRemoved: parent.content.stepsRemoved + 1 };
    if (from.path === undefined || content.stepsRemoved >= MOST_STEPS) return;
    if (parent === undefined) from.owner.spokeS ??= atS;
    for (const port of onPath.get(from.path) ?? [])
      if (port.owner !== from.owner && port.hears) hear(port, from, content, atS + TRAVEL_S);
  }

  function hear(port: Port<C>, from: Port<C>, content: Content<C>, atS: number): void {
    const row = port.rows.get(from);
    if (row === undefined) {
      // The first Announce ever heard of a sender does not count; one that has led before the tree stood was heard then.
      const isKnown = random() < (port.isFresh || from.isFresh ? 0 : KNOWN);
      port.rows.set(from, { times: isKnown ? [atS] : [], newest: isKnown ? content : undefined });
      // One Announce makes nobody best.
      return;
    }
    const before = row.newest;
    const had = enter(row, port, content, atS);
    // A port that leads follows nobody: whoever was best on it once has to qualify anew.
    const isBest = port.best === from && (port.state === 'slave' || port.state === 'passive');
    if (isBest) wait(port, atS);
    const isNew = had === 1 && !isBest;
    const isOther = had > 0 && before !== undefined && !isSame(before, content);
    if (isNew || isOther) decide(port.owner, atS);
  }

  function decide(runner: Runner<C>, atS: number): void {
    const { clock, own } = runner;
    const { heard, through } = hearAll(runner, atS);
    const best = through === undefined ? undefined : heard[through];
    if (clock.slaveOnly) {
      const outranks = best !== undefined && compareDataSets(own, best).better === 'first';
      follow(runner, outranks ? undefined : through, atS);
      for (const index of runner.turn) {
        const port = runner.ports[index];
        if (port !== undefined) settle(port, !outranks && index === through ? 'slave' : 'listening', atS);
      }
      return;
    }
    const decisions = runner.ports.map((port, index) =>
      port.path === undefined ? undefined : decideState(own, best, heard[index], index === through),
    );
    if (!decisions.includes('S1')) follow(runner, undefined, atS);
    for (const index of runner.turn) {
      const port = runner.ports[index];
      if (port === undefined) continue;
      switch (decisions[index]) {
        case undefined:
          break;
        case 'M1':
        case 'M2':
          if (port.state !== 'pre-master') lead(port, atS);
          break;
        case 'S1':
          // Ports decided before this one wait by the old steps, those after it by the new ones.
          follow(runner, index, atS);
          settle(port, 'slave', atS);
          break;
        case 'M3':
          if (clock.relays) qualify(port, atS);
          else settle(port, 'passive', atS);
          break;
        case 'P1':
        case 'P2':
          settle(port, 'passive', atS);
      }
    }
  }

  function qualify(port: Port<C>, atS: number): void {
    if (port.state === 'master' || port.state === 'pre-master') return;
    const { parent, intervalS: own } = port.owner;
    const steps = parent === undefined ? 0 : parent.content.stepsRemoved + 1;
    const end = atS + (steps + 1) * own;
    port.state = 'pre-master';
    port.setting++;
    push(heap, end, { kind: 'qualified', port, setting: port.setting, atS: end });
  }

  function settle(port: Port<C>, state: 'slave' | 'passive' | 'listening', atS: number): void {
    if (port.path === undefined || port.state === state) return;
    port.state = state;
    wait(port, atS);
  }

  function follow(runner: Runner<C>, index: number | undefined, atS: number): void {
    const through = index === undefined ? undefined : runner.ports[index];
    const from = through?.best;
    const content = from === undefined ? undefined : through?.rows.get(from)?.newest;
    const before = stateOf(runner, atS);
    const steps = runner.parent?.content.stepsRemoved;
    if (through?.state === 'slave' && runner.parent?.from !== from) wait(through, atS);
    runner.parent =
      through === undefined || from === undefined || content === undefined ? undefined : { from, through, content };
    const after = stateOf(runner, atS);
    const now = runner.parent?.content.stepsRemoved;
    if (steps !== now) lastChangeS = atS;
    if (now !== undefined && now >= most) most = now + 1;
    if (before.parent === after.parent && before.grandmaster === after.grandmaster) return;
    lastChangeS = atS;
    runner.changes.push(after);
  }
}
