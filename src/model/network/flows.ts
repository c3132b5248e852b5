/**
 * Which links and ports carry each stream leg, and why.
 *
 * Inside a segment a leg goes where its group was joined, to every port towards a querier or multicast router (RFC 4541
 * §2.1.2 (1): joined or not), and everywhere when flooded. Between segments it goes through a multicast router to the
 * receivers beyond.
 */
import type { Device, Interface, Leg, Plan, ReceiverLeg, Switch } from '../../plan/types.js';
import type { Address } from '../../values/address.js';
import type { Domains } from '../vlans/index.js';
import { ethernetAddress } from '../groups/index.js';
import type { Reception } from '../streams/index.js';
import { conductOf, floodReason, type Conduct, type FloodReason } from './conduct.js';
import { buildCutTree, type CutTree } from './cut-tree.js';
import { joinedSource } from './join-filter.js';
import { buildSegments, type Segment } from './segment.js';
import { buildTree, type Step, type Tree } from './tree.js';
import { append } from '../../collections/group-by.js';

/** A segment with everything that is asked of it more than once. */
export interface ForwardingSegment {
  readonly segment: Segment;
  readonly conduct: Conduct;
  readonly tree: Tree;
  readonly cuts: CutTree;
  /** Nodes every stream is carried to: switches that query or route, or behind which a device does. */
  readonly sinks: readonly Sink[];
}

export interface Sink {
  readonly node: number;
  readonly why: 'querier' | 'router';
  readonly on: Switch | Device;
  /** Port of a device that queries or routes. */
  readonly port: Interface | undefined;
}

/** A leg in one segment: where it starts there and who takes it there. */
export interface Flow {
  readonly leg: Leg;
  readonly forwarding: ForwardingSegment;
  readonly from: number;
  /** How it got here: from its own interface, or through a router. */
  readonly through: Switch | Device | undefined;
  readonly receivers: readonly Reached[];
  readonly flood: FloodReason | undefined;
}

export interface Reached {
  readonly leg: ReceiverLeg;
  readonly node: number;
  readonly interface: Interface;
}

export interface Network {
  readonly forwardings: readonly ForwardingSegment[];
  readonly forwardingOf: (leg: {
    readonly vlan: Leg['vlan'];
    readonly network: Leg['network'];
    readonly interface: Interface | undefined;
  }) => ForwardingSegment | undefined;
  /** Every leg whose place on a switch is known, in plan order; after it, what routers carry on of it. */
  readonly flows: readonly Flow[];
  readonly flowsOf: (leg: Leg) => readonly Flow[];
}

export function buildNetwork(plan: Plan, domains: Domains, reception: Reception): Network {
  const segments = buildSegments(plan, domains);
  const forwardings = new Map([...segments].map(([domain, segment]) => [domain, buildGround(segment, domains)]));
  const forwardingOf: Network['forwardingOf'] = (leg) =>
    leg.vlan === undefined ? undefined : forwardings.get(domains.switched(leg));
  // Grounds are asked for by many, flows only by few: they are worked out when somebody asks.
  let built: { readonly flows: readonly Flow[]; readonly byLeg: ReadonlyMap<Leg, readonly Flow[]> } | undefined;
  const flowsNow = (): { readonly flows: readonly Flow[]; readonly byLeg: ReadonlyMap<Leg, readonly Flow[]> } =>
    (built ??= buildFlows(plan, forwardingOf, reception));
  return {
    forwardings: [...forwardings.values()],
    forwardingOf,
    get flows() {
      return flowsNow().flows;
    },
    flowsOf: (leg) => flowsNow().byLeg.get(leg) ?? [],
  };
}

function buildFlows(
  plan: Plan,
  forwardingOf: Network['forwardingOf'],
  reception: Reception,
): { readonly flows: readonly Flow[]; readonly byLeg: ReadonlyMap<Leg, readonly Flow[]> } {
  const joined = joinersByGround(plan, forwardingOf, reception);
  const flows: Flow[] = [];
  const byLeg = new Map<Leg, Flow[]>();
  const add = (flow: Flow): void => {
    flows.push(flow);
    append(byLeg, flow.leg, flow);
  };
  for (const leg of plan.legs) {
    const { group } = leg;
    const forwarding = forwardingOf(leg);
    const from =
      leg.interface?.port === undefined ? undefined : forwarding?.segment.nodeOf.get(leg.interface.port.switch);
    if (group === undefined || forwarding === undefined || from === undefined) continue;
    const wanted = joined(leg);
    add(flowIn(leg, forwarding, from, undefined, wanted.get(forwarding) ?? []));
    for (const [beyond, receivers] of wanted) {
      if (beyond === forwarding) continue;
      const router = routerBetween(forwarding, beyond);
      if (router !== undefined) add(flowIn(leg, beyond, router.into, router.on, receivers));
    }
  }
  return { flows, byLeg };
}

function buildGround(segment: Segment, domains: Domains): ForwardingSegment {
  const conduct = conductOf(segment, (on) => standsElsewhere(on, segment, domains));
  const sinks: Sink[] = [];
  const add = (on: Switch | Device | undefined, why: Sink['why']): void => {
    if (on === undefined || sinks.some((sink) => sink.on === on && sink.why === why)) return;
    if ('ports' in on) {
      const node = segment.nodeOf.get(on);
      if (node !== undefined) sinks.push({ node, why, on, port: undefined });
      return;
    }
    const port = on.interfaces.find(
      (one) => one.vlan !== undefined && segment.domain.vlans.includes(one.vlan) && one.port !== undefined,
    );
    const node = port?.port === undefined ? undefined : segment.nodeOf.get(port.port.switch);
    if (node !== undefined) sinks.push({ node, why, on, port });
  };
  // Only the winner of the election sends queries (RFC 3376 §6.6.2), so only towards it is a port a router port.
  add(electedQuerier(conduct)?.on, 'querier');
  for (const vlan of segment.domain.vlans) {
    if (vlan.routing === undefined || vlan.routing.mode === 'none') continue;
    for (const router of vlan.routing.routers) add(router, 'router');
  }
  const tree = buildTree(
    segment,
    sinks.map((sink) => sink.node),
  );
  return { segment, conduct, tree, cuts: buildCutTree(segment), sinks };
}

/** Whether the plan puts a box into other parts of the segment's VLANs and not into this one. */
function standsElsewhere(on: Switch | Device, segment: Segment, domains: Domains): boolean {
  const { domain } = segment;
  const stands = domain.vlans.flatMap((vlan) =>
    'ports' in on
      ? (domains.onSwitch(on, vlan) ?? [])
      : on.interfaces.filter((one) => one.vlan === vlan && domains.placed(one)).map((one) => domains.switched(one)),
  );
  return stands.length > 0 && !stands.includes(domain);
}

/** Lowest address wins (RFC 3376 §6.6.2); queriers without an address count as planned, after those with one. */
export function electedQuerier(conduct: Conduct): Conduct['queriers'][number] | undefined {
  let best: Conduct['queriers'][number] | undefined;
  for (const one of conduct.queriers) {
    if (one.address === undefined || one.address === 0) continue;
    if (best?.address === undefined || (typeof one.address === typeof best.address && one.address < best.address))
      best = one;
  }
  return best ?? conduct.queriers[0];
}

function flowIn(
  leg: Leg,
  forwarding: ForwardingSegment,
  from: number,
  through: Flow['through'],
  receivers: readonly Reached[],
): Flow {
  return {
    leg,
    forwarding,
    from,
    through,
    receivers,
    flood: leg.group === undefined ? undefined : floodReason(forwarding.conduct, leg.group, receivers.length > 0),
  };
}

/** A router with a foot in both segments, and where it enters the second. */
function routerBetween(
  forwarding: ForwardingSegment,
  beyond: ForwardingSegment,
): { readonly on: Switch | Device; readonly into: number } | undefined {
  for (const sink of forwarding.sinks) {
    if (sink.why !== 'router') continue;
    const other = beyond.sinks.find((one) => one.why === 'router' && one.on === sink.on);
    if (other !== undefined) return { on: sink.on, into: other.node };
  }
  return undefined;
}

/** Who asked for one key of a group table. */
interface Asked {
  readonly all: Reached[];
  /** Where sources are told apart; under undefined those who take any. */
  readonly bySource: Map<Address | undefined, Reached[]> | undefined;
}

type Joined = (leg: Leg) => ReadonlyMap<ForwardingSegment, readonly Reached[]>;

/**
 * Who gets a leg, by segment: receivers that take it, and those its switches cannot keep it from because they asked for
 * the same group from any source, or from another where sources are not told apart, or for a group with the same Ethernet
 * address where tables are keyed by it.
 */
function joinersByGround(plan: Plan, forwardingOf: Network['forwardingOf'], reception: Reception): Joined {
  const byLeg = new Map<Leg, Reached[]>();
  const byKey = new Map<ForwardingSegment, Map<number | bigint, Asked>>();
  const forwardings = new Map<Reached, ForwardingSegment>();
  for (const receiverLeg of plan.receiverLegs) {
    const { interface: via, group } = receiverLeg;
    const forwarding = forwardingOf(receiverLeg);
    const node = via?.port === undefined ? undefined : forwarding?.segment.nodeOf.get(via.port.switch);
    if (via === undefined || forwarding === undefined || node === undefined || group === undefined) continue;
    const reached: Reached = { leg: receiverLeg, node, interface: via };
    forwardings.set(reached, forwarding);
    for (const leg of reception.heard(receiverLeg)) if (leg.group === group) append(byLeg, leg, reached);
    let keys = byKey.get(forwarding);
    if (keys === undefined) byKey.set(forwarding, (keys = new Map<number | bigint, Asked>()));
    const key = keyIn(forwarding, group);
    let asked = keys.get(key);
    if (asked === undefined)
      keys.set(key, (asked = { all: [], bySource: forwarding.conduct.keyedBySource ? new Map() : undefined }));
    asked.all.push(reached);
    if (asked.bySource !== undefined) append(asked.bySource, joinedSource(receiverLeg), reached);
  }
  return (leg) => {
    const found = new Map<ForwardingSegment, Reached[]>();
    const add = (reached: Reached): void => {
      const forwarding = forwardings.get(reached);
      if (forwarding === undefined) return;
      const list = found.get(forwarding);
      if (list === undefined) found.set(forwarding, [reached]);
      else if (!list.includes(reached)) list.push(reached);
    };
    for (const reached of byLeg.get(leg) ?? []) add(reached);
    const home = forwardingOf(leg);
    const asked =
      home === undefined || leg.group === undefined ? undefined : byKey.get(home)?.get(keyIn(home, leg.group));
    if (home === undefined || asked === undefined) return found;
    if (asked.bySource === undefined || leg.source === undefined) {
      for (const reached of asked.all) add(reached);
    } else {
      for (const source of [leg.source, undefined])
        for (const reached of asked.bySource.get(source) ?? []) add(reached);
    }
    return found;
  };
}

/** What a switch of the segment can tell apart: a group, or only its Ethernet address. */
function keyIn(forwarding: ForwardingSegment, group: number | bigint): number | bigint {
  // Negative, so that an Ethernet address never equals a group.
  return forwarding.conduct.keyedByMac.length > 0 ? -ethernetAddress(group) : group;
}

/** No bridge sends a frame back by the port it came in by (IEEE 802.1Q-2022 §8.6.1). */
export function isOwnPort(flow: Flow, host: Interface): boolean {
  return host === flow.leg.interface;
}

/** Everything that carries a flow, once each, with the first reason that holds. */
export interface Carried {
  readonly steps: ReadonlyMap<Step, CarryReason>;
  /** Host ports it leaves by. */
  readonly ports: ReadonlyMap<Interface, CarryReason>;
}

export type CarryReason =
  | { readonly kind: 'joined'; readonly by: readonly ReceiverLeg[] }
  | { readonly kind: 'router port'; readonly towards: Switch | Device; readonly why: Sink['why'] }
  | { readonly kind: 'flooded'; readonly why: FloodReason };

/** The flow's way, worked out in full: for one stream, not for a hundred thousand. */
export function carriedBy(flow: Flow): Carried {
  const { forwarding, from } = flow;
  const { segment, tree } = forwarding;
  const byEdge = new Map<number, { step: Step; reason: CarryReason }>();
  const ports = new Map<Interface, CarryReason>();
  for (const reached of flow.receivers) {
    const steps = tree.path(from, reached.node);
    if (steps === undefined) continue;
    for (const step of steps) {
      const known = byEdge.get(step.edge.id);
      if (known === undefined) byEdge.set(step.edge.id, { step, reason: { kind: 'joined', by: [reached.leg] } });
      else if (known.reason.kind === 'joined') known.reason = { kind: 'joined', by: [...known.reason.by, reached.leg] };
    }
    if (isOwnPort(flow, reached.interface)) continue;
    const before = ports.get(reached.interface);
    ports.set(reached.interface, {
      kind: 'joined',
      by: [...(before?.kind === 'joined' ? before.by : []), reached.leg],
    });
  }
  if (flow.forwarding.conduct.snooping !== false) {
    for (const sink of forwarding.sinks) {
      const reason: CarryReason = { kind: 'router port', towards: sink.on, why: sink.why };
      const steps = tree.path(from, sink.node);
      if (steps === undefined) continue;
      for (const step of steps) if (!byEdge.has(step.edge.id)) byEdge.set(step.edge.id, { step, reason });
      if (sink.port !== undefined && !isOwnPort(flow, sink.port) && !ports.has(sink.port)) ports.set(sink.port, reason);
    }
  }
  if (flow.flood !== undefined) {
    const reason: CarryReason = { kind: 'flooded', why: flow.flood };
    for (let node = 0; node < segment.nodes.length; node++) {
      const steps = tree.path(from, node);
      if (steps === undefined) continue;
      for (const step of steps) if (!byEdge.has(step.edge.id)) byEdge.set(step.edge.id, { step, reason });
      for (const host of segment.hostsAt[node] ?? [])
        if (!isOwnPort(flow, host) && !ports.has(host)) ports.set(host, reason);
    }
  }
  return { steps: new Map([...byEdge.values()].map(({ step, reason }) => [step, reason])), ports };
}
