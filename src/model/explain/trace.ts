/**
 * One stream's way through the network: what carries it, why, whom it does not reach, and what would take it.
 *
 * Worked out in full for one stream; the model of all streams keeps sums only.
 */
import type { Device, Interface, Leg, Plan, Receiver, ReceiverLeg, Sender, Switch, Vlan } from '../../plan/types.js';
import type { Address } from '../../values/address.js';
import type { Model } from '../model.js';
import { isDelivered, whyCarried, withoutStrangers } from './carry-why.js';
import {
  carriedBy,
  createArrival,
  electedQuerier,
  type Flow,
  type ForwardingSegment,
  isUnasked,
  joinedSource,
  type KnownQuerier,
  type PlaceFact,
  placeGap,
  type Plane,
  planeOf,
  type PortLoad,
} from '../network/index.js';
import { hopsOf, rateAt, type Hop } from './trace-hops.js';
import { lossesOf, type Loss, type Taken } from './trace-losses.js';

/** The parts of the model a trace asks. */
export type TraceModel = Pick<Model, 'plan' | 'network' | 'reception' | 'rates' | 'load' | 'domains'>;

export interface Trace {
  readonly sender: Sender;
  readonly legs: readonly LegTrace[];
  /** What alone takes the stream off air, by the receivers it takes it from. */
  readonly losses: readonly Loss[];
  /** Stream legs of the plan without a known rate, which every load is too small by. */
  readonly unrated: number;
}

export interface LegTrace {
  readonly leg: Leg;
  /** Bit/s on an untagged host port and on a tagged link; undefined when not known. */
  readonly rate: { readonly onPort: number; readonly onLink: number } | undefined;
  /** Facts of the format without which there is no rate; empty when it has no format at all. */
  readonly rateLacks: readonly string[];
  /** Why the plan does not tell the way. */
  readonly unknown: PlaceFact | 'group' | undefined;
  /** The segment the sender stands in, then those a router carries it on to. */
  readonly stages: readonly Stage[];
  readonly unreached: readonly Unreached[];
  /** What alone takes this leg, by the receivers it takes it from. */
  readonly losses: readonly Loss[];
}

/** The way through one segment. */
export interface Stage {
  readonly forwarding: ForwardingSegment;
  /** IGMP or MLD there, by the kind of the group. */
  readonly plane: Plane;
  /** The router it comes from; undefined where the sender stands. */
  readonly through: Switch | Device | undefined;
  readonly flood: Flow['flood'];
  /** Where the host hands it to a switch; undefined beyond a router that is a switch itself. */
  readonly entry:
    | { readonly interface: Interface; readonly rateBps: number | undefined; readonly load: PortLoad | undefined }
    | undefined;
  /** The querier that wins the election, where the plan names any. */
  readonly querier: KnownQuerier | undefined;
  /** Depth first from the switch the stream enters by. */
  readonly hops: readonly Hop[];
  /** Receiver legs it is delivered to. */
  readonly reached: readonly ReceiverLeg[];
}

export interface Unreached {
  readonly receiver: Receiver;
  /** Undefined where the receiver takes the stream and no leg of it takes this one. */
  readonly receiverLeg: ReceiverLeg | undefined;
  readonly why: UnreachedWhy;
}

export type UnreachedWhy =
  | { readonly kind: 'sender unknown' }
  | { readonly kind: 'place unknown'; readonly lacks: PlaceFact }
  | { readonly kind: 'leg not taken' }
  | { readonly kind: 'joins nothing' }
  | { readonly kind: 'other group'; readonly joins: Address }
  | { readonly kind: 'other source'; readonly expects: Address }
  | { readonly kind: 'no link'; readonly from: Switch; readonly to: Switch }
  | { readonly kind: 'no named router'; readonly from: Vlan; readonly to: Vlan }
  | { readonly kind: 'not routed'; readonly from: Vlan; readonly to: Vlan }
  | { readonly kind: 'no querier'; readonly at: Switch }
  | { readonly kind: 'time to live'; readonly ttl: number };

/** Every leg of one stream. Linear in the plan, as all receivers are asked whether they hear it. */
export function buildTrace(model: TraceModel, sender: Sender): Trace {
  const legs = sender.legs.map((leg) => traceLeg(model, leg));
  const taken = legs.flatMap(({ reached }) => reached);
  return {
    sender,
    legs: legs.map(({ trace }) => trace),
    losses: lossesOf(model.plan, model.network, taken),
    unrated: model.load.unrated,
  };
}

function traceLeg(model: TraceModel, leg: Leg): { readonly trace: LegTrace; readonly reached: readonly Taken[] } {
  const { network, rates } = model;
  const flows = network
    .flowsOf(leg)
    .filter((flow) => flow.through === undefined || whyNotBeyond(leg, flow, model) === undefined);
  const stages = flows.map((flow) => stageOf(flow, model));
  const delivered = new Set(stages.flatMap((stage) => stage.reached));
  const wanting = hearersOf(model.plan, model, leg);
  const reached = wanting.filter((one) => delivered.has(one)).map((receiverLeg): Taken => ({ leg, receiverLeg }));
  const trace: LegTrace = {
    leg,
    rate: rates.onWire(leg),
    rateLacks: rates.of(leg)?.missing ?? [],
    unknown: leg.group === undefined ? 'group' : placeGap(leg, network),
    stages,
    unreached: [
      ...wanting
        .filter((one) => !delivered.has(one))
        .map((receiverLeg) => ({
          receiver: receiverLeg.receiver,
          receiverLeg,
          why: whyUnreached(leg, receiverLeg, model),
        })),
      ...withoutLeg(model.plan, leg).map((receiver): Unreached => ({
        receiver,
        receiverLeg: undefined,
        why: { kind: 'leg not taken' },
      })),
    ],
    losses: lossesOf(model.plan, network, reached),
  };
  return { trace, reached };
}

function hearersOf(plan: Plan, { reception }: TraceModel, leg: Leg): readonly ReceiverLeg[] {
  return plan.receiverLegs.filter(
    (one) => one.takes === leg || (one.takes === undefined && reception.heard(one).includes(leg)),
  );
}

function withoutLeg(plan: Plan, leg: Leg): readonly Receiver[] {
  return plan.receivers.filter(
    (receiver) => receiver.takes === leg.sender && !receiver.legs.some((one) => one.takes === leg),
  );
}

function stageOf(flow: Flow, model: TraceModel): Stage {
  const { leg, forwarding } = flow;
  const kept = withoutStrangers(flow);
  const carried = carriedBy(kept);
  const arrives = createArrival();
  return {
    forwarding,
    through: flow.through,
    flood: flow.flood,
    entry: entryOf(flow, model),
    querier: electedQuerier(flow.plane.conduct.queriers),
    plane: flow.plane,
    hops: hopsOf(kept, carried, model.load, (reason) => whyCarried(leg, reason, model.reception)),
    reached: kept.receivers
      .filter((one) => arrives(kept, one) && isDelivered(leg, one.leg, model.reception))
      .map((one) => one.leg),
  };
}

function entryOf({ entry: via }: Flow, { load }: TraceModel): Stage['entry'] {
  if (via?.port === undefined) return undefined;
  return { interface: via, rateBps: rateAt(via), load: load.ports.get(via.port) };
}

/** Why a router does not carry a leg on; undefined when it does. */
function whyNotBeyond(leg: Leg, flow: Flow, { network }: TraceModel): UnreachedWhy | undefined {
  const home = network.forwardingOf(leg);
  const port = leg.interface?.port;
  const from = port === undefined ? undefined : home?.segment.nodeOf.get(port.switch);
  const sink = home === undefined ? undefined : planeOf(home, leg.group).routers.find((one) => one.on === flow.through);
  if (home === undefined || port === undefined || from === undefined || sink === undefined)
    return { kind: 'sender unknown' };
  // RFC 1812 §4.2.2.9 and RFC 1112 §2: a router forwards only what has more than one hop left.
  if (leg.ttl !== undefined && leg.ttl <= 1) return { kind: 'time to live', ttl: leg.ttl };
  const to = home.segment.nodes[sink.node];
  return home.tree.path(from, sink.node) === undefined && to !== undefined
    ? { kind: 'no link', from: port.switch, to }
    : undefined;
}

function whyUnreached(leg: Leg, receiverLeg: ReceiverLeg, model: TraceModel): UnreachedWhy {
  const { network, domains } = model;
  if (receiverLeg.group === undefined && leg.group !== undefined) return { kind: 'joins nothing' };
  if (receiverLeg.group !== undefined && receiverLeg.group !== leg.group)
    return { kind: 'other group', joins: receiverLeg.group };
  const lacks = placeGap(receiverLeg, network);
  if (lacks !== undefined) return { kind: 'place unknown', lacks };
  const start = network.forwardingOf(leg);
  const end = network.forwardingOf(receiverLeg);
  const from = leg.interface?.port?.switch;
  const to = receiverLeg.interface?.port?.switch;
  if (
    leg.group === undefined ||
    placeGap(leg, network) !== undefined ||
    start === undefined ||
    from === undefined ||
    to === undefined
  )
    return { kind: 'sender unknown' };
  if (
    start !== end &&
    leg.vlan !== undefined &&
    receiverLeg.vlan !== undefined &&
    !start.segment.domain.vlans.includes(receiverLeg.vlan)
  ) {
    const flow = network.flowsOf(leg).find((one) => one.forwarding === end);
    const stopped = flow === undefined ? undefined : whyNotBeyond(leg, flow, model);
    if (stopped !== undefined) return stopped;
    if (flow === undefined)
      return {
        kind: domains.reach(leg) === domains.reach(receiverLeg) ? 'no named router' : 'not routed',
        from: leg.vlan,
        to: receiverLeg.vlan,
      };
    const entry = flow.forwarding.segment.nodes[flow.from];
    if (
      entry !== undefined &&
      flow.forwarding.tree.path(flow.from, flow.forwarding.segment.nodeOf.get(to) ?? -1) === undefined
    )
      return { kind: 'no link', from: entry, to };
  } else if (
    start !== end ||
    start.tree.path(start.segment.nodeOf.get(from) ?? -1, start.segment.nodeOf.get(to) ?? -1) === undefined
  ) {
    return { kind: 'no link', from, to };
  }
  const into = network.flowsOf(leg).find(({ forwarding }) => forwarding === end);
  const asked = into?.forwarding.segment.nodes[into.from];
  if (into !== undefined && asked !== undefined && isUnasked(into)) return { kind: 'no querier', at: asked };
  const expects = joinedSource(receiverLeg);
  return expects === undefined ? { kind: 'sender unknown' } : { kind: 'other source', expects };
}
