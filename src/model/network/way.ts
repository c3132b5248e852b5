/** The way of one leg to one receiver: where it starts and ends, and which segments and routers lie between. */
import { isNonEmpty, type NonEmpty } from '../../collections/non-empty.js';
import type { Device, Interface, Leg, ReceiverLeg, Switch } from '../../plan/types.js';
import { isIPv4 } from '../../values/address.js';
import type { Network } from './flows.js';
import { planeOf, type ForwardingSegment } from './ground.js';
import { createArrival } from './forward.js';
import type { Stage as RoutedStage } from './routing/routing.js';
import { unboundOn } from './unbound.js';
import type { Plane } from './plane.js';
import { unicastStages } from './unicast-flows.js';

/** A leg of a stream with the receiver leg that takes it. */
export interface ReceptionLeg {
  readonly leg: Leg;
  readonly receiverLeg: ReceiverLeg;
}

/** Where a leg starts and ends, and what it must cross: through each router it comes to another stage. */
export interface Way {
  readonly leg: Leg;
  readonly from: Interface;
  readonly to: Interface;
  readonly stages: NonEmpty<Stage>;
  /** Where multicast routers lie between, the one that serves the receiver's part of its VLAN, and where it stands there. */
  readonly served: { readonly on: Switch | Device; readonly node: number } | undefined;
}

export type Stage = RoutedStage<ForwardingSegment>;

/**
 * Undefined when the plan does not tell where both ends are, nothing joins them, nobody's queries keep the membership, or a
 * table of bound groups leaves it out.
 */
export function wayOf(pair: ReceptionLeg, network: Network): Way | undefined {
  const way = wayWhere(pair, network, OPEN);
  if (way === undefined || (isUnqueried(way) && isForgotten(pair.leg, pair.receiverLeg, network))) return undefined;
  if (pair.leg.group === undefined) return way;
  const isSet = way.stages.some(({ forwarding }) => planeOf(forwarding, way.leg.group).byHand !== undefined);
  return isSet && unboundOn(pair.leg, pair.receiverLeg, network).length > 0 ? undefined : way;
}

/** A way over links that the spanning tree keeps blocked: it may open them once something else is lost. */
export function blockedWayOf(pair: ReceptionLeg, network: Network): Way | undefined {
  if (network.forwardings.every(({ losses }) => losses === undefined)) return undefined;
  return wayWhere(pair, network, BLOCKED_TOO);
}

/** Multicast routers look for their way back anew; of unicast routes no plan tells what would take over. */
export function findsWayAnew({ leg, stages }: Way): boolean {
  return leg.group !== undefined && stages.length > 1;
}

/** Whether a blocked way without multicast routers is open once a single thing is lost, and queries come to its end. */
export function opensWithout({ stages, leg }: Way, lost: unknown): boolean {
  const joined = ({ losses, cuts }: ForwardingSegment, a: number, b: number): boolean =>
    losses === undefined ? cuts.joined(a, b) : losses.joinedWithout(lost, a, b);
  return stages.every(({ forwarding, from, to, router }) => {
    if (router === lost || !joined(forwarding, from, to)) return false;
    const plane = planeOf(forwarding, leg.group);
    return (
      router !== undefined ||
      leg.group === undefined ||
      !someHang(plane, forwarding, (node) => joined(forwarding, from, node)) ||
      plane.sources.some(({ node, on }) => on !== lost && joined(forwarding, to, node))
    );
  });
}

/** Whether memberships at a switch end where no query comes. */
function hangsOnQueries(plane: Plane, at: number): boolean {
  return plane.conduct.snooping === true && !plane.unplaced && !plane.floodsUnqueried(at);
}

/** The same of any of the switches that a loss leaves together: what is parted now floods or not by itself. */
export function someHang(plane: Plane, { segment }: ForwardingSegment, isThere: (node: number) => boolean): boolean {
  return segment.nodes.some((_, node) => hangsOnQueries(plane, node) && isThere(node));
}

/** What counts as a way. */
interface Passable {
  readonly joined: (forwarding: ForwardingSegment, a: number, b: number) => boolean;
  readonly routing: (network: Network) => Network['routing'];
}

const OPEN: Passable = {
  joined: ({ cuts }, a, b) => cuts.joined(a, b),
  routing: (network) => network.routing,
};

const BLOCKED_TOO: Passable = {
  joined: ({ linked }, a, b) => linked(a, b),
  routing: (network) => network.routingOverBlocked(),
};

function wayWhere(pair: ReceptionLeg, network: Network, { joined, routing }: Passable): Way | undefined {
  const { leg, receiverLeg } = pair;
  if (leg.group === undefined) return unicastWay(pair, network, joined);
  const from = leg.interface;
  const to = receiverLeg.interface;
  const start = network.forwardingOf(leg);
  const end = network.forwardingOf(receiverLeg);
  const startNode = from?.port === undefined ? undefined : start?.segment.nodeOf.get(from.port.switch);
  const endNode = to?.port === undefined ? undefined : end?.segment.nodeOf.get(to.port.switch);
  if (
    from === undefined ||
    to === undefined ||
    start === undefined ||
    end === undefined ||
    startNode === undefined ||
    endNode === undefined
  )
    return undefined;
  if (start === end) {
    if (!joined(start, startNode, endNode)) return undefined;
    return {
      leg,
      from,
      to,
      stages: [{ forwarding: start, from: startNode, to: endNode, router: undefined }],
      served: undefined,
    };
  }
  const way = routing(network).way(
    { forwarding: start, node: startNode },
    { forwarding: end, node: endNode },
    isIPv4(leg.group),
  );
  if (way.kind !== 'way' || !isNonEmpty(way.stages) || !lasts(leg, way.stages)) return undefined;
  return { leg, from, to, stages: way.stages, served: way.designated };
}

/** Whether a leg has hops enough: a router forwards only what has more than one left (RFC 1812 §4.2.2.9, RFC 1112 §2). */
export function lasts({ ttl }: Leg, stages: readonly unknown[]): boolean {
  return ttl === undefined || ttl >= stages.length;
}

/** The way of a stream to one address, where the receiver holds it and every place on the way is known. */
function unicastWay(
  { leg, receiverLeg }: ReceptionLeg,
  network: Network,
  joined: (forwarding: ForwardingSegment, a: number, b: number) => boolean,
): Way | undefined {
  const from = leg.interface;
  const to = receiverLeg.interface;
  const route = network.routeOf(leg);
  if (from === undefined || to === undefined || route?.stop !== undefined || route?.end !== to) return undefined;
  const stages: Stage[] = [];
  for (const stage of unicastStages(leg, route, network.forwardingAt)) {
    const { forwarding, from: start, to: end, router } = stage;
    if (forwarding === undefined || start === undefined || end === undefined) return undefined;
    if (!joined(forwarding, start, end.node)) return undefined;
    stages.push({ forwarding, from: start, to: end.node, router });
  }
  return isNonEmpty(stages) && lasts(leg, stages) ? { leg, from, to, stages, served: undefined } : undefined;
}

/** Whether no query comes to the end of a way. */
function isUnqueried({ leg, stages }: Way): boolean {
  const last = stages.at(-1) ?? stages[0];
  return planeOf(last.forwarding, leg.group).asking[last.to] === 'nobody';
}

/** Whether no query comes to the receiver's switch, and the stream is not flooded there either. */
export function isForgotten(leg: Leg, receiverLeg: ReceiverLeg, network: Network): boolean {
  if (leg.group === undefined) return false;
  const end = network.forwardingOf(receiverLeg);
  const port = receiverLeg.interface?.port;
  const at = port === undefined ? undefined : end?.segment.nodeOf.get(port.switch);
  if (end === undefined || at === undefined || planeOf(end, leg.group).asking[at] !== 'nobody') return false;
  const arrives = createArrival();
  return !network
    .flowsOf(leg)
    .some(
      (flow) => flow.forwarding === end && flow.receivers.some((one) => one.leg === receiverLeg && arrives(flow, one)),
    );
}

/** Whether there is any switch to which no query comes: a look before every receiver is asked. */
export function anyUnqueried({ forwardings }: Network): boolean {
  return forwardings.some(({ igmp, mld }) => igmp.asking.includes('nobody') || mld.asking.includes('nobody'));
}
