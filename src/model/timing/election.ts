/**
 * Who leads: the best master clock algorithm run by every clock at once, to a fixed point.
 *
 * Each round every clock hears what the master ports on its communication paths announced in the round before, and
 * decides its port states (IEEE 1588-2008 §9.3). The first round hears what the best clocks' Announces come to when they
 * spread (`expected-announces.ts`); where that is no fixed point, rounds start from an empty state. Nothing is carried
 * over from before a failure: it would keep a dead grandmaster's Announces circling between boundary clocks.
 *
 * An ordinary clock with several ports is one clock with a foot on each leg: it follows the best one hears on any of
 * them and announces itself on all, but never passes one network's time to another. Such clocks are the habit of the
 * trade; IEEE 1588 gives an ordinary clock one port.
 */
import { keepBest, MOST_STEPS, type Announce, type ElectionClock, type Heard } from './announces.js';
import { compareDataSets, decideState, ownDataSet, type DataSet, type Decision } from './bmca.js';
import { expectedAnnounces } from './expected-announces.js';

export type { ElectionClock, ElectionPort } from './announces.js';

/** Port states that last (IEEE 1588-2008 §9.2.5). */
export type PortState = 'master' | 'slave' | 'passive' | 'listening';

export interface PortOutcome {
  readonly state: PortState;
  /**
   * Absent for a second port of a clock on one path. On a clock that only follows it stands at the port with the best
   * Announce alone: `M2` there means that the clock's own values beat it.
   */
  readonly decision: Decision | undefined;
}

export interface ClockOutcome<C extends ElectionClock> {
  readonly clock: C;
  readonly ports: readonly PortOutcome[];
  /** Whose time it keeps: its own, when it follows nobody. */
  readonly grandmaster: C;
  readonly stepsRemoved: number;
  /** Whom it follows, from which of that clock's ports, and through which of its own; indices from 0. */
  readonly parent: { readonly clock: C; readonly port: number; readonly through: number } | undefined;
}

export interface Election<C extends ElectionClock> {
  readonly outcomes: ReadonlyMap<C, ClockOutcome<C>>;
  readonly rounds: number;
  /** False when port states still changed after the last round; the outcomes are then those of that round. */
  readonly settled: boolean;
}

/** A chain settles in its length plus two rounds; an Announce without a source dies after 255 steps. */
const MOST_ROUNDS = 600;

/** Elects over clocks of one domain and transport. The order in which they are listed changes nothing. */
export function elect<C extends ElectionClock>(clocks: readonly C[]): Election<C> {
  const voters = clocks.map(voterOf);
  const expected = run(voters, expectedAnnounces(voters.filter(mayLead)), 2);
  // Round by round from an empty state, a chain of n boundary clocks takes n rounds.
  return expected.settled ? expected : run(voters, new Map(), MOST_ROUNDS);
}

/** The same without a guess of where it ends: what the guess has to agree with. */
export function electFromNothing<C extends ElectionClock>(clocks: readonly C[]): Election<C> {
  return run(clocks.map(voterOf), new Map(), MOST_ROUNDS);
}

function mayLead({ clock }: Voter<ElectionClock>): boolean {
  return !clock.slaveOnly;
}

/** Rounds until nothing changes any more, or as many as are allowed. */
function run<C extends ElectionClock>(voters: readonly Voter<C>[], first: Heard<C>, most: number): Election<C> {
  const leaders = voters.filter(mayLead);
  let states = new Map<C, State<C>>();
  let heard = first;
  let rounds = 0;
  let settled = false;
  while (!settled && rounds < most) {
    rounds++;
    const next = new Map(leaders.map((voter) => [voter.clock, decide(voter, heard)]));
    settled = leaders.every(({ clock }) => same(states.get(clock), next.get(clock)));
    states = next;
    heard = announced(states);
  }
  for (const voter of voters) if (voter.clock.slaveOnly) states.set(voter.clock, listen(voter, heard));
  const clocks = voters.map(({ clock }) => clock);
  return { outcomes: outcomesOf(clocks, states), rounds, settled };
}

interface Voter<C extends ElectionClock> {
  readonly clock: C;
  readonly own: DataSet;
  /** Further ports on a path the clock already has a port on: they hear their own clock and go passive. */
  readonly repeated: ReadonlySet<number>;
}

const NONE_REPEATED: ReadonlySet<number> = new Set();

function voterOf<C extends ElectionClock>(clock: C): Voter<C> {
  if (clock.ports.length < 2) return { clock, own: ownDataSet(clock.quality), repeated: NONE_REPEATED };
  const paths = new Set<number>();
  const repeated = new Set<number>();
  clock.ports.forEach(({ path }, index) => {
    if (paths.has(path)) repeated.add(index);
    paths.add(path);
  });
  return { clock, own: ownDataSet(clock.quality), repeated };
}

/** What a clock heard, and what it decided. */
interface State<C extends ElectionClock> {
  readonly clock: C;
  readonly best: Best<C> | undefined;
  readonly decisions: readonly (Decision | undefined)[];
}

interface Best<C extends ElectionClock> {
  readonly announce: Announce<C>;
  readonly data: DataSet;
  readonly through: number;
}

function decide<C extends ElectionClock>(voter: Voter<C>, heard: Heard<C>): State<C> {
  const { clock, own, repeated } = voter;
  const { best, here } = hear(voter, heard);
  const decisions = clock.ports.map((_, index) => {
    if (repeated.has(index)) return undefined;
    const decision = decideState(own, best?.data, here[index], best?.through === index);
    return decision === 'M3' && !clock.relays ? 'P2' : decision;
  });
  return { clock, best: decisions.includes('S1') ? best : undefined, decisions };
}

/**
 * A slave-only clock decides as any other and then may not lead: where its own values beat all it hears, it stays in
 * LISTENING and follows nobody (IEEE 1588-2008 Figures 24 and 26; so do running daemons).
 */
function listen<C extends ElectionClock>(voter: Voter<C>, heard: Heard<C>): State<C> {
  const { best } = hear(voter, heard);
  const outranks = best !== undefined && compareDataSets(voter.own, best.data).better === 'first';
  const decision: Decision = best === undefined || outranks ? 'M2' : 'S1';
  return {
    clock: voter.clock,
    best: outranks ? undefined : best,
    decisions: voter.clock.ports.map((_, index) => (best?.through === index ? decision : undefined)),
  };
}

interface Hearing<C extends ElectionClock> {
  readonly best: Best<C> | undefined;
  /** By port. */
  readonly here: readonly (DataSet | undefined)[];
}

function hear<C extends ElectionClock>({ clock, repeated }: Voter<C>, heard: Heard<C>): Hearing<C> {
  const self = clock.quality.identity;
  let best: Best<C> | undefined;
  const here = clock.ports.map(({ path, masterOnly }, through) => {
    if (masterOnly || repeated.has(through)) return undefined;
    const announce = heard.get(path)?.find((one) => one.data.sender.clock !== self);
    if (announce === undefined) return undefined;
    const data: DataSet = { ...announce.data, receiver: { clock: self, port: through + 1 } };
    if (best === undefined || compareDataSets(data, best.data).better === 'first') best = { announce, data, through };
    return data;
  });
  return { best, here };
}

function announced<C extends ElectionClock>(states: ReadonlyMap<C, State<C>>): Heard<C> {
  const paths = new Map<number, Announce<C>[]>();
  for (const { clock, best, decisions } of states.values()) {
    decisions.forEach((decision, index) => {
      const path = clock.ports[index]?.path;
      if (path === undefined || (decision !== 'M1' && decision !== 'M2' && decision !== 'M3')) return;
      const sender = { clock: clock.quality.identity, port: index + 1 };
      const passedOn = decision === 'M3' ? best : undefined;
      const stepsRemoved = passedOn === undefined ? 0 : passedOn.data.stepsRemoved + 1;
      if (stepsRemoved >= MOST_STEPS) return;
      const announce: Announce<C> = {
        from: clock,
        port: index,
        source: passedOn?.announce.source ?? clock,
        data: { grandmaster: passedOn?.data.grandmaster ?? clock.quality, stepsRemoved, sender },
      };
      keepBest(paths, path, announce);
    });
  }
  return paths;
}

function same<C extends ElectionClock>(before: State<C> | undefined, after: State<C> | undefined): boolean {
  if (before === undefined || after === undefined) return false;
  const a = before.best;
  const b = after.best;
  if (
    a?.announce.from !== b?.announce.from ||
    a?.announce.port !== b?.announce.port ||
    a?.announce.source !== b?.announce.source
  )
    return false;
  return (
    a?.data.stepsRemoved === b?.data.stepsRemoved &&
    a?.through === b?.through &&
    before.decisions.every((one, index) => one === after.decisions[index])
  );
}

function outcomesOf<C extends ElectionClock>(
  clocks: readonly C[],
  states: ReadonlyMap<C, State<C>>,
): ReadonlyMap<C, ClockOutcome<C>> {
  return new Map(
    clocks.map((clock) => {
      const state = states.get(clock);
      const best = state?.best;
      const ports = clock.ports.map((_, index): PortOutcome => {
        const decision = state?.decisions[index];
        if (clock.slaveOnly) return { state: best?.through === index ? 'slave' : 'listening', decision };
        return { state: decision === undefined ? 'passive' : STATES[decision], decision };
      });
      return [
        clock,
        {
          clock,
          ports,
          grandmaster: best?.announce.source ?? clock,
          stepsRemoved: best === undefined ? 0 : best.data.stepsRemoved + 1,
          parent:
            best === undefined
              ? undefined
              : { clock: best.announce.from, port: best.announce.port, through: best.through },
        },
      ];
    }),
  );
}

const STATES: Readonly<Record<Decision, PortState>> = {
  M1: 'master',
  M2: 'master',
  M3: 'master',
  P1: 'passive',
  P2: 'passive',
  S1: 'slave',
};
