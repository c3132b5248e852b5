/** Who leads each PTP domain of a plan, who follows through what, and what each loss changes. */
import { once } from '../../collections/once.js';
import type { Link, Plan, PtpDomain, PtpTransport } from '../../plan/types.js';
import type { Domains } from '../vlans/index.js';
import { clockFacts, type ClockFacts, type ClockOwner } from './clocks.js';
import { elect, type ClockOutcome, type Election, type ElectionPort } from './election.js';
import { followersOf, islandsOf, reasonOf, clockRoleOf, type Reason, type ClockRole } from './clock-role.js';
import { pathsWithout, type Attachment, type Gone, type PtpTopology } from './paths.js';
import { buildPtpTopology } from './ptp-topology.js';

/** A clock with the ports that stand. */
export interface Clock extends Omit<ClockFacts, 'quality'> {
  readonly quality: ClockFacts['quality'];
  readonly ports: readonly ClockPort[];
}

export interface ClockPort extends ElectionPort {
  readonly attachment: Attachment;
}

export type Outcome = ClockOutcome<Clock>;

/** Clocks that hear each other's PTP at all: one domain number over one transport. */
export interface TimingGroup {
  readonly domain: number;
  readonly transport: PtpTransport;
  /** The plan's entries for the domain: one a rig. */
  readonly planned: readonly PtpDomain[];
  readonly election: Election<Clock>;
  readonly islands: readonly Island[];
}

/** Clocks that some chain of paths joins. One grandmaster an island is what is wanted. */
export interface Island {
  readonly group: Pick<TimingGroup, 'domain' | 'transport' | 'planned'>;
  readonly clocks: readonly Clock[];
  /** Clocks that others follow and that follow nobody, most followers first. */
  readonly leaders: readonly Leader[];
}

export interface Leader {
  readonly clock: Clock;
  readonly why: Reason<Clock> | undefined;
  /** Clocks that keep its time, directly or through others. */
  readonly followers: number;
}

/** One election over the plan, whole or with something gone. */
export interface TimingState {
  readonly groups: readonly TimingGroup[];
  /** In plan order; transparent clocks are not among them. */
  readonly clocks: readonly Clock[];
  readonly clockOf: (owner: ClockOwner) => Clock | undefined;
  readonly outcomeOf: (clock: Clock) => Outcome | undefined;
  readonly clockRoleOf: (clock: Clock) => ClockRole;
  /** Who follows a clock directly. */
  readonly followersOf: (clock: Clock) => readonly Outcome[];
  readonly islandOf: (clock: Clock) => Island | undefined;
}

/** What an election goes without. `classes`: clocks that have lost their reference, and the class they fell to. */
export interface Loss {
  readonly owners?: ReadonlySet<ClockOwner>;
  readonly links?: ReadonlySet<Link>;
  readonly classes?: ReadonlyMap<ClockOwner, number>;
}

/** The part of the timing model that elections start from. */
export interface TimingBase {
  readonly facts: readonly ClockFacts[];
  readonly topology: PtpTopology;
  readonly plannedFor: (domain: number) => readonly PtpDomain[];
}

export function buildTimingBase(plan: Plan, domains: Domains): TimingBase {
  const facts = clockFacts(plan);
  return {
    facts,
    topology: buildPtpTopology(plan, domains, facts),
    plannedFor: (domain) => plan.ptpDomains.filter((one) => one.number === domain),
  };
}

/** Elects from an empty state. Clocks whose ports stand as in `like` are the same objects. */
export function timingWithout(base: TimingBase, loss: Loss = {}, like?: TimingState): TimingState {
  return stateOf(standingClocks(base, loss, like), base);
}

/** Elects among these clocks of the whole alone; `pathOf` says where their ports are then. */
export function timingAmong(
  voters: readonly Clock[],
  base: TimingBase,
  { classes }: Loss,
  pathOf: (port: ClockPort) => number | undefined,
): TimingState {
  const clocks = voters.map((clock): Clock => {
    const clockClass = classes?.get(clock.owner) ?? clock.quality.clockClass;
    const ports = clock.ports.flatMap((port): readonly ClockPort[] => {
      const path = pathOf(port);
      return path === undefined ? [] : [{ ...port, path }];
    });
    const isSame = clockClass === clock.quality.clockClass && samePorts(clock.ports, ports);
    return isSame ? clock : { ...clock, quality: { ...clock.quality, clockClass }, ports };
  });
  return stateOf(clocks, base);
}

function stateOf(clocks: readonly Clock[], base: TimingBase): TimingState {
  const groups = groupsOf(clocks, base);
  const outcomes = groups.map(({ election }) => election.outcomes);
  const outcomeOf = (clock: Clock): Outcome | undefined => {
    for (const one of outcomes) {
      const found = one.get(clock);
      if (found !== undefined) return found;
    }
    return undefined;
  };
  const followers = once(() => new Map(groups.flatMap(({ election }) => [...followersOf(election)])));
  const islands = once(() => new Map(groups.flatMap((group) => group.islands).flatMap(clocksWithIsland)));
  const byOwner = once(() => new Map(clocks.map((clock) => [clock.owner, clock])));
  return {
    groups,
    clocks,
    clockOf: (owner) => byOwner().get(owner),
    outcomeOf,
    clockRoleOf: (clock) => {
      const outcome = outcomeOf(clock);
      return outcome === undefined ? 'off' : clockRoleOf(outcome, followers().has(clock));
    },
    followersOf: (clock) => followers().get(clock) ?? [],
    islandOf: (clock) => islands().get(clock),
  };
}

function clocksWithIsland(island: Island): readonly (readonly [Clock, Island])[] {
  return island.clocks.map((clock) => [clock, island]);
}

const NOBODY: ReadonlySet<never> = new Set();

export function goneWith({ owners = NOBODY, links = NOBODY }: Loss): Gone {
  return { owners, links };
}

function standingClocks({ facts, topology }: TimingBase, loss: Loss, like: TimingState | undefined): readonly Clock[] {
  const gone = goneWith(loss);
  const ports = new Map<ClockFacts, ClockPort[]>();
  for (const [attachment, path] of pathsWithout(topology, gone)) {
    const port: ClockPort = { path, masterOnly: attachment.masterOnly, attachment };
    const list = ports.get(attachment.clock);
    if (list === undefined) ports.set(attachment.clock, [port]);
    else list.push(port);
  }
  return facts.flatMap((one) => {
    if (gone.owners.has(one.owner) || one.mode === 'e2e-transparent' || one.mode === 'p2p-transparent') return [];
    const clockClass = loss.classes?.get(one.owner) ?? one.quality.clockClass;
    const own = ports.get(one) ?? [];
    const before = like?.clockOf(one.owner);
    if (before !== undefined && before.quality.clockClass === clockClass && samePorts(before.ports, own))
      return [before];
    return [{ ...one, quality: { ...one.quality, clockClass }, ports: own }];
  });
}

function samePorts(before: readonly ClockPort[], now: readonly ClockPort[]): boolean {
  if (before.length !== now.length) return false;
  return before.every((port, index) => port.path === now[index]?.path && port.attachment === now[index].attachment);
}

function groupsOf(clocks: readonly Clock[], base: TimingBase): readonly TimingGroup[] {
  const byKey = new Map<string, Clock[]>();
  for (const clock of clocks) {
    const key = `${clock.domain} ${clock.transport}`;
    const list = byKey.get(key);
    if (list === undefined) byKey.set(key, [clock]);
    else list.push(clock);
  }
  const groups = [...byKey.values()].flatMap((own) => {
    const [first] = own;
    return first === undefined ? [] : [groupOf(first, own, base.plannedFor(first.domain))];
  });
  return groups.sort((a, b) => a.domain - b.domain || (a.transport < b.transport ? -1 : 1));
}

function groupOf({ domain, transport }: Clock, clocks: readonly Clock[], planned: readonly PtpDomain[]): TimingGroup {
  const election = elect(clocks);
  const group = { domain, transport, planned, election };
  const islands = once(() => islandsIn(group, clocks));
  return {
    ...group,
    get islands() {
      return islands();
    },
  };
}

function islandsIn(group: Omit<TimingGroup, 'islands'>, clocks: readonly Clock[]): readonly Island[] {
  const { election } = group;
  const followers = followersOf(election);
  const counts = countByGrandmaster(election);
  return islandsOf(clocks).map((island): Island => {
    const leaders = island.flatMap((clock): readonly Leader[] => {
      const outcome = election.outcomes.get(clock);
      if (outcome === undefined || clockRoleOf(outcome, followers.has(clock)) !== 'leads') return [];
      return [{ clock, why: reasonOf(clock, island), followers: counts.get(clock) ?? 0 }];
    });
    leaders.sort((a, b) => b.followers - a.followers || (a.clock.name < b.clock.name ? -1 : 1));
    return { group, clocks: island, leaders };
  });
}

function countByGrandmaster(election: Election<Clock>): ReadonlyMap<Clock, number> {
  const counts = new Map<Clock, number>();
  for (const { parent, grandmaster } of election.outcomes.values()) {
    if (parent !== undefined) counts.set(grandmaster, (counts.get(grandmaster) ?? 0) + 1);
  }
  return counts;
}
