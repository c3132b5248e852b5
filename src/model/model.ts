/**
 * What the network does with a plan. Each part is a pure function of the plan, computed on first use and shared by
 * all rules.
 */
import { once } from '../collections/once.js';
import type { ConventionGroups, Leg, Plan } from '../plan/types.js';
import {
  type Addressing,
  buildAddressing,
  buildOwners,
  buildUnicastReach,
  findUnaddressed,
  findWrongVlans,
  type Owners,
  type Unaddressed,
  type UnicastReach,
  type UnusualInterfaces,
  unusualInterfaces,
  type WrongVlans,
} from './hosts/index.js';
import { buildDomains, type Domains } from './vlans/index.js';
import {
  buildGroupIndex,
  buildHeldTo,
  buildMisplaced,
  buildStrays,
  findGroupRepeats,
  type GroupIndex,
  type GroupRepeats,
  type Misplacement,
  type Strays,
} from './groups/index.js';
import { buildDelays, type Delays } from './delay/index.js';
import {
  buildFailures,
  buildGroupSegments,
  buildHeadroom,
  buildLoad,
  buildNetwork,
  buildUnrated,
  type Crossing,
  createUnicastRoutes,
  crossingsOf,
  type Failures,
  findRateless,
  type GroupSegment,
  type Headroom,
  legsKeptApart,
  routedReceptions,
  type RoutedReception,
  type Load,
  type Network,
  type Rateless,
  type Unrated,
} from './network/index.js';
import {
  buildReception,
  createRates,
  type Rates,
  type Reception,
  findWrongFormats,
  type UnusualLegs,
  unusualLegs,
  type WrongFormats,
} from './streams/index.js';
import { createProposals, type Proposals } from './proposals/index.js';
import { buildTiming, clocksOverUdp, outOfReach, type OutOfReach, type Timing } from './timing/index.js';
import { buildVerdicts, createJudge, type Judge, type Verdicts } from './verdicts/index.js';

export interface Model {
  readonly plan: Plan;
  /** Who hears whom: switched domains and the reachability domains that multicast routing makes of them. */
  readonly domains: Domains;
  /** Which senders and receivers use which group, per reachability domain. */
  readonly groups: GroupIndex;
  /** Which groups several legs may use, and which share a multicast MAC. */
  readonly groupRepeats: GroupRepeats;
  /** Sender legs that something is unusual about: the only ones that most rules on streams need to look at. */
  readonly unusualLegs: UnusualLegs;
  /** The same of interfaces. */
  readonly unusualInterfaces: UnusualInterfaces;
  /** Sender legs whose group is not one for media, by the reason. */
  readonly misplaced: ReadonlyMap<Misplacement, readonly Leg[]>;
  /** The conventions' promises about groups that a leg is held to. */
  readonly heldTo: (leg: Leg) => readonly ConventionGroups[];
  /** Legs whose groups break the conventions' promises, by the cause. */
  readonly strays: Strays;
  /** Free groups and addresses for advice, none offered twice. */
  readonly proposals: Proposals;
  /** Who owns which unicast address and MAC. */
  readonly owners: Owners;
  /** Every unicast address that is held, and how the addresses of a VLAN fit its subnets. */
  readonly addressing: Addressing;
  /** Interfaces that are written in another VLAN than their port and address say. */
  readonly wrongVlans: WrongVlans;
  /** Who is set to another format than the stream taken, and senders whose format is the slip. */
  readonly wrongFormats: WrongFormats;
  /** Which VLANs unicast packets can pass between. */
  readonly unicastReach: UnicastReach;
  /** Which sender legs a receiver leg hears, and who joins a group. */
  readonly reception: Reception;
  /** Which links and ports carry each stream. */
  readonly network: Network;
  /** IGMP and MLD by switched domain: settings, queriers and the groups carried. */
  readonly groupSegments: readonly GroupSegment[];
  /** What each stream leg sends in a second. */
  readonly rates: Rates;
  /** Bounds that tell without loads that no link or port can be too full. */
  readonly headroom: Headroom;
  /** True when no single failure can take two legs of one reception: a cheap look before `failures`. */
  readonly keptApart: boolean;
  /** What each link and host port carries while nothing has failed. */
  readonly load: Load;
  /** Which of them streams of unknown rate pass, so that the load is a lower bound. */
  readonly unrated: Unrated;
  /** Links and host ports that carry streams and have no rate. */
  readonly rateless: Rateless;
  /** Interfaces that need an address and state none. */
  readonly unaddressed: readonly Unaddressed[];
  /** Receptions that a multicast router has to carry. */
  readonly crossings: readonly Crossing[];
  /** Receptions through routers, each with its way; none where there is no row of routers. */
  readonly routedReceptions: readonly RoutedReception[];
  /** Whether a leg gets to a receiver leg that means it. */
  readonly judge: Judge;
  /** One verdict for every receiver leg. */
  readonly verdicts: Verdicts;
  /** What each single failure takes off air. */
  readonly failures: Failures;
  /** Who leads each PTP domain, who follows whom, and what each loss changes. */
  readonly timing: Timing;
  /** Clocks that may lead, and that no clock meant to lead reaches. */
  readonly outOfReach: readonly OutOfReach[];
  /** How long streams take, part by part; lip sync and round trips. */
  readonly delays: Delays;
}

export function createModel(plan: Plan): Model {
  const domains = once(() => buildDomains(plan));
  const groups = once(() => buildGroupIndex(plan, domains(), groupRepeats()));
  const groupRepeats = once(() => findGroupRepeats(plan.legs));
  const misplaced = once(() => buildMisplaced(unusualLegs(plan).groups));
  const heldTo = once(() => buildHeldTo(plan));
  const strays = once(() =>
    buildStrays(plan, heldTo(), {
      interface: (one) => wrongVlans().of(one) !== undefined,
      sender: (one) => wrongFormats().of(one) !== undefined,
    }),
  );
  const owners = once(() => buildOwners(plan));
  const addressing = once(() => buildAddressing(plan));
  const wrongFormats = once(() => findWrongFormats(plan));
  const wrongVlans = once(() => findWrongVlans(plan, addressing()));
  const proposals = once(() =>
    createProposals({
      plan,
      domains: domains(),
      groups: groups(),
      heldTo: heldTo(),
      owners: owners(),
      strays: strays(),
    }),
  );
  const unicastReach = once(() => buildUnicastReach(plan, domains(), owners()));
  const unicastRoutes = once(() => createUnicastRoutes(plan, domains(), owners()));
  const reception = once(() => buildReception(plan, domains(), groups()));
  const network = once(() => buildNetwork(plan, domains(), reception(), unicastRoutes()));
  const groupSegments = once(() => buildGroupSegments(plan, domains(), network(), addressing()));
  const rates = once(() => {
    const { lines, of } = wrongFormats();
    const { kinds, misformed } = strays();
    const none = lines.length === 0 && kinds.length === 0;
    return createRates(none ? undefined : (sender) => of(sender) !== undefined || misformed(sender));
  });
  const headroom = once(() => buildHeadroom(plan, domains(), rates(), reception, unicastRoutes()));
  const keptApart = once(() => legsKeptApart(plan));
  const load = once(() => buildLoad(plan, network(), ({ leg }) => rates().onWire(leg)));
  const unrated = once(() => buildUnrated(plan, network(), ({ leg }) => rates().onWire(leg), load()));
  const rateless = once(() =>
    findRateless(plan, domains(), () => ({ network: network(), load: load(), unrated: unrated() })),
  );
  const overUdp = once(() => clocksOverUdp(plan));
  const unaddressed = once(() => findUnaddressed(plan, (device) => overUdp()(device)));
  const crossings = once(() => crossingsOf(plan, domains(), reception(), network(), routed));
  const routed = once(() => routedReceptions(plan, network(), reception));
  const judge = once(() =>
    createJudge({
      plan,
      network: network(),
      domains: domains(),
      owners: owners(),
      crossings,
      spoils: {
        plan,
        ...{ domains: domains(), groups: groups(), network: network(), rates: rates() },
        ...{ owners: owners(), addressing: addressing(), unicastReach: unicastReach() },
      },
    }),
  );
  const verdicts = once(() =>
    buildVerdicts({ plan, reception: reception(), domains: domains(), rates: rates(), network: network() }, judge()),
  );
  const failures = once(() => buildFailures(plan, network()));
  const delays = once(() => buildDelays(plan, network()));
  const timing = once(() => buildTiming(plan, domains()));
  const unreached = once(() => outOfReach(plan, domains(), timing()));
  return {
    plan,
    get domains() {
      return domains();
    },
    get groups() {
      return groups();
    },
    get groupRepeats() {
      return groupRepeats();
    },
    get unusualLegs() {
      return unusualLegs(plan);
    },
    get unusualInterfaces() {
      return unusualInterfaces(plan);
    },
    get misplaced() {
      return misplaced();
    },
    get heldTo() {
      return heldTo();
    },
    get strays() {
      return strays();
    },
    get wrongVlans() {
      return wrongVlans();
    },
    get wrongFormats() {
      return wrongFormats();
    },
    get proposals() {
      return proposals();
    },
    get owners() {
      return owners();
    },
    get addressing() {
      return addressing();
    },
    get unicastReach() {
      return unicastReach();
    },
    get reception() {
      return reception();
    },
    get network() {
      return network();
    },
    get groupSegments() {
      return groupSegments();
    },
    get rates() {
      return rates();
    },
    get headroom() {
      return headroom();
    },
    get keptApart() {
      return keptApart();
    },
    get load() {
      return load();
    },
    get unrated() {
      return unrated();
    },
    get rateless() {
      return rateless();
    },
    get unaddressed() {
      return unaddressed();
    },
    get crossings() {
      return crossings();
    },
    get routedReceptions() {
      return routed();
    },
    get judge() {
      return judge();
    },
    get verdicts() {
      return verdicts();
    },
    get failures() {
      return failures();
    },
    get delays() {
      return delays();
    },
    get outOfReach() {
      return unreached();
    },
    get timing() {
      return timing();
    },
  };
}
