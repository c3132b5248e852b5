/** The way of one leg to one receiver: where it starts and ends, and which segments and routers lie between. */
import type { Device, Interface, Leg, ReceiverLeg, Switch } from '../../plan/types.js';
import { planeOf, type ForwardingSegment, type Network } from './flows.js';
import { createArrival } from './forward.js';
import { unboundOn } from './unbound.js';
import { unicastStages } from './unicast-flows.js';

/** A leg of a stream with the receiver leg that takes it. */
export interface ReceptionLeg {
  readonly leg: Leg;
  readonly receiverLeg: ReceiverLeg;
}

/** Where a leg starts and ends, and what it must cross. Through a router it has two stages. */
export interface Way {
  readonly leg: Leg;
  readonly from: Interface;
  readonly to: Interface;
  /** Choices of stages: one choice without routing, one a router otherwise. The way stands while any choice does. */
  readonly choices: readonly (readonly Stage[])[];
}

export interface Stage {
  readonly forwarding: ForwardingSegment;
  readonly from: number;
  readonly to: number;
  /** The router the stage ends at. */
  readonly router: Switch | Device | undefined;
}

/**
 * Undefined when the plan does not tell where both ends are, nothing joins them, nobody's queries keep the membership, or a
 * table of bound groups leaves it out.
 */
export function wayOf(pair: ReceptionLeg, network: Network): Way | undefined {
  const { leg, receiverLeg } = pair;
  if (leg.group === undefined) return unicastWay(pair, network);
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
  const choices: (readonly Stage[])[] = [];
  if (start === end) {
    if (start.cuts.joined(startNode, endNode))
      choices.push([{ forwarding: start, from: startNode, to: endNode, router: undefined }]);
  } else {
    for (const sink of planeOf(start, leg.group).routers) {
      const entry = planeOf(end, leg.group).routers.find((one) => one.on === sink.on);
      if (entry === undefined || !start.cuts.joined(startNode, sink.node) || !end.cuts.joined(entry.node, endNode))
        continue;
      choices.push([
        { forwarding: start, from: startNode, to: sink.node, router: sink.on },
        { forwarding: end, from: entry.node, to: endNode, router: undefined },
      ]);
    }
  }
  if (choices.length === 0 || isForgotten(leg, receiverLeg, network)) return undefined;
  const isSet = [start, end].some((one) => planeOf(one, leg.group).byHand !== undefined);
  return isSet && unboundOn(leg, receiverLeg, network).length > 0 ? undefined : { leg, from, to, choices };
}

/** The way of a stream to one address, where the receiver holds it and every place on the way is known. */
function unicastWay({ leg, receiverLeg }: ReceptionLeg, network: Network): Way | undefined {
  const from = leg.interface;
  const to = receiverLeg.interface;
  const route = network.routeOf(leg);
  if (from === undefined || to === undefined || route?.stop !== undefined || route?.end !== to) return undefined;
  const stages: Stage[] = [];
  for (const stage of unicastStages(leg, route, network.forwardingAt)) {
    const { forwarding, from: start, to: end, router } = stage;
    if (forwarding === undefined || start === undefined || end === undefined) return undefined;
    if (!forwarding.cuts.joined(start, end.node)) return undefined;
    stages.push({ forwarding, from: start, to: end.node, router });
  }
  if (leg.ttl !== undefined && leg.ttl < stages.length) return undefined;
  return stages.length === 0 ? undefined : { leg, from, to, choices: [stages] };
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
