/**
 * One stream's way through the network: what carries it, why, whom it does not reach, and what would take it.
 *
 * Worked out in full for one stream; the model of all streams keeps sums only.
 */
import type { Device, Interface, Leg, Plan, Receiver, ReceiverLeg, Sender, Switch } from '../../plan/types.js';
import type { Model } from '../model.js';
import { whyCarried, withoutStrangers } from './carry-why.js';
import {
  carriedBy,
  electedQuerier,
  type Flow,
  type ForwardingSegment,
  type KnownQuerier,
  type Onward,
  type PlaceFact,
  placeGap,
  type Plane,
  type PortLoad,
  type UnicastStop,
} from '../network/index.js';
import { DELIVERED, isOutside, type Unreached, whyUnreached } from '../verdicts/index.js';
import { hopsOf, rateAt, type Hop } from './trace-hops.js';
import { lossesOf, type Loss, type Taken } from './trace-losses.js';

/** The parts of the model a trace asks. */
export type TraceModel = Pick<
  Model,
  'plan' | 'network' | 'reception' | 'rates' | 'load' | 'unrated' | 'judge' | 'owners'
>;

export interface Trace {
  readonly sender: Sender;
  readonly legs: readonly LegTrace[];
  /** What alone takes the stream off air, by the receivers it takes it from. */
  readonly losses: readonly Loss[];
  /** Stream legs of the plan without a known rate, which every load is too small by. */
  readonly unrated: number;
  /** Whether inputs switch between streams: every load is that of the worst choice for its place. */
  readonly worstChoice: boolean;
}

export interface LegTrace {
  readonly leg: Leg;
  /** Bit/s on an untagged host port and on a tagged link; undefined when not known. */
  readonly rate: { readonly onPort: number; readonly onLink: number } | undefined;
  /** Facts of the format without which there is no rate; empty when it has no format at all. */
  readonly rateLacks: readonly string[];
  /** Why the plan does not tell the way. */
  readonly unknown: PlaceFact | 'group' | 'port outside VLAN' | undefined;
  /** What keeps a leg to one address from its end. */
  readonly stop: UnicastStop | undefined;
  /** The segment the sender stands in, then those a router carries it on to. */
  readonly stages: readonly Stage[];
  readonly unreached: readonly Unreached[];
  /** What alone takes this leg, by the receivers it takes it from. */
  readonly losses: readonly Loss[];
}

/** The way through one segment. */
export interface Stage {
  readonly forwarding: ForwardingSegment;
  /** False for a leg to one address: switches then ask neither IGMP nor MLD. */
  readonly toGroup: boolean;
  /** IGMP or MLD there, by the kind of the group. */
  readonly plane: Plane;
  /** The router it comes from; undefined where the sender stands. */
  readonly through: Switch | Device | undefined;
  readonly flood: Flow['flood'];
  /** Where the host hands it to a switch; undefined beyond a router that is a switch itself. */
  readonly entry:
    | {
        readonly interface: Interface;
        readonly rateBps: number | undefined;
        readonly load: PortLoad | undefined;
        readonly atLeast: boolean;
      }
    | undefined;
  /** The querier that wins the election, where the plan names any. */
  readonly querier: KnownQuerier | undefined;
  /** Depth first from the switch the stream enters by. */
  readonly hops: readonly Hop[];
  /** Routers that are asked to carry it on from here; some drop it, as its TTL ends there. */
  readonly onward: readonly Pick<Onward, 'on' | 'drops'>[];
  /** Receiver legs it is delivered to. */
  readonly reached: readonly ReceiverLeg[];
}

/** Every leg of one stream. Linear in the plan, as all receivers are asked whether they hear it. */
export function buildTrace(model: TraceModel, sender: Sender): Trace {
  const legs = sender.legs.map((leg) => traceLeg(model, leg));
  const taken = legs.flatMap(({ reached }) => reached);
  return {
    sender,
    legs: legs.map(({ trace }) => trace),
    losses: lossesOf(model.plan, model.network, taken),
    unrated: model.load.unrated,
    worstChoice: model.load.chosen !== undefined,
  };
}

function traceLeg(model: TraceModel, leg: Leg): { readonly trace: LegTrace; readonly reached: readonly Taken[] } {
  const { network, rates, judge } = model;
  const outside = isOutside(leg);
  const toGroup = leg.group !== undefined;
  const flows = outside ? [] : network.flowsOf(leg);
  const wanting = hearersOf(model.plan, model, leg).map((receiverLeg) => ({
    receiverLeg,
    fate: judge(leg, receiverLeg),
  }));
  const delivered = new Set(wanting.filter(({ fate }) => fate === DELIVERED).map(({ receiverLeg }) => receiverLeg));
  const reached = [...delivered].map((receiverLeg): Taken => ({ leg, receiverLeg }));
  const trace: LegTrace = {
    leg,
    rate: rates.onWire(leg),
    rateLacks: rates.of(leg)?.missing ?? [],
    unknown: !toGroup && leg.unicast === undefined ? 'group' : outside ? 'port outside VLAN' : placeGap(leg, network),
    stop: network.routeOf(leg)?.stop,
    stages: flows.map((flow) => stageOf(flow, delivered, model)),
    unreached: [
      ...wanting
        .filter(({ receiverLeg }) => !delivered.has(receiverLeg))
        .map(({ receiverLeg, fate }): Unreached => ({
          receiver: receiverLeg.receiver,
          receiverLeg,
          why: whyUnreached(fate, leg, receiverLeg, model),
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

function stageOf(flow: Flow, delivered: ReadonlySet<ReceiverLeg>, model: TraceModel): Stage {
  const { leg, forwarding } = flow;
  const kept = withoutStrangers(flow);
  const carried = carriedBy(kept);
  return {
    forwarding,
    toGroup: flow.to === undefined,
    through: flow.through,
    flood: flow.flood,
    entry: entryOf(flow, model),
    querier: electedQuerier(flow.plane.conduct.queriers),
    plane: flow.plane,
    hops: hopsOf(kept, carried, model, (reason) => whyCarried(leg, reason, model.reception)),
    onward: flow.onward.map(({ on, drops }) => ({ on, drops })),
    reached: kept.receivers.filter((one) => delivered.has(one.leg)).map((one) => one.leg),
  };
}

function entryOf({ entry: via }: Flow, { load, unrated }: TraceModel): Stage['entry'] {
  if (via?.port === undefined) return undefined;
  return { interface: via, rateBps: rateAt(via), load: load.ports.get(via.port), atLeast: unrated.fromHost(via.port) };
}
