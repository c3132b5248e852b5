/** Where each stream leg starts, segment by segment, and who asked for it there. `forward.ts` says where it goes. */
import { once } from '../../collections/once.js';
import type { Device, Leg, Plan, Switch, ReceiverLeg } from '../../plan/types.js';
import { isIPv4, type Address } from '../../values/address.js';
import type { Domain, Domains } from '../vlans/index.js';
import type { Reception } from '../streams/index.js';
import type { Around, Sink } from './plane.js';
import { buildGrounds, type ForwardingOf, type ForwardingSegment, planeOf } from './ground.js';
import type { LoopedPart } from './loops.js';
import { joinersByGround, type Joined } from './joiners.js';
import type { Branch } from './routing/branches.js';
import type { Box } from './routing/feet.js';
import type { Wire } from './routing/graph.js';
import { buildRouting, type Routing } from './routing/routing.js';
import { buildTree } from './tree.js';
import { spreadOf } from './spread.js';
import type { Flow, Onward, Reached } from './flow.js';
import { createUnicastFlows } from './unicast-flows.js';
import type { UnicastRoute, UnicastRoutes } from './unicast-route.js';
import { append, groupBy } from '../../collections/group-by.js';
import { kept } from '../../collections/kept.js';

export type { Flow, Onward, Reached } from './flow.js';

export interface Network {
  readonly forwardings: readonly ForwardingSegment[];
  /** Parts of the network with loops, each with the spanning tree that breaks them. */
  readonly parts: readonly LoopedPart[];
  readonly forwardingOf: ForwardingOf;
  /** Every leg whose place on a switch is known, in plan order; after it, what routers carry on of it. */
  readonly flows: readonly Flow[];
  readonly flowsOf: (leg: Leg) => readonly Flow[];
  /** Where a stream to one address goes; undefined for groups. */
  readonly routeOf: (leg: Leg) => UnicastRoute | undefined;
  readonly forwardingAt: (domain: Domain) => ForwardingSegment | undefined;
  /** The flows while no input that switches takes anything; undefined where the plan has no such input. */
  readonly unchosen: readonly Flow[] | undefined;
  /** Which routers a stream takes from one segment to another. */
  readonly routing: Routing<ForwardingSegment>;
  /** The same where links that a spanning tree blocks are counted too. */
  readonly routingOverBlocked: () => Routing<ForwardingSegment>;
  /** The flows there would be by other ways through the routers. */
  readonly flowsBy: (routing: Routing<ForwardingSegment>) => Pick<Network, 'flows' | 'unchosen'>;
}

export function buildNetwork(plan: Plan, domains: Domains, reception: Reception, routeOf: UnicastRoutes): Network {
  const { forwardings, parts } = buildGrounds(plan, domains);
  const forwardingOf: ForwardingOf = (leg) =>
    leg.vlan === undefined ? undefined : forwardings.get(domains.switched(leg));
  const forwardingAt: Network['forwardingAt'] = (domain) => forwardings.get(domain);
  const unicastFlows = createUnicastFlows(plan, forwardingAt);
  const routing = buildRouting([...forwardings.values()]);
  // Grounds are asked for by many, flows only by few: they are worked out when somebody asks.
  let built: readonly Flow[] | undefined;
  const unicastNow = (leg: Leg): readonly Flow[] => {
    const route = routeOf(leg);
    return route === undefined ? NO_FLOWS : unicastFlows(leg, route);
  };
  const joinersOf = (receiverLegs: readonly ReceiverLeg[]): Joined =>
    joinersByGround(receiverLegs, forwardingOf, reception);
  const all = once(() => joinersOf(plan.receiverLegs));
  const fixed = once(() => joinersOf(plan.receiverLegs.filter(({ receiver }) => receiver.selection === undefined)));
  const flowsOver = (other: Network['routing'], joined: Joined): readonly Flow[] =>
    buildFlows(plan, joined, forwardingOf, other, unicastNow);
  const flowsNow = (): readonly Flow[] => (built ??= flowsOver(routing, all()));
  const byLeg = once(() => groupBy(flowsNow(), ({ leg }) => leg));
  let unchosen: readonly Flow[] | 'no choices' | undefined;
  const unchosenBy = (other: Network['routing']): readonly Flow[] | 'no choices' => {
    if (plan.receivers.every(({ selection }) => selection === undefined)) return 'no choices';
    return flowsOver(other, fixed());
  };
  return {
    forwardings: [...forwardings.values()],
    parts,
    forwardingOf,
    forwardingAt,
    routeOf,
    get flows() {
      return flowsNow();
    },
    flowsOf: (leg) => byLeg().get(leg) ?? [],
    get unchosen() {
      unchosen ??= unchosenBy(routing);
      return unchosen === 'no choices' ? undefined : unchosen;
    },
    routing,
    routingOverBlocked: once(() => {
      const components = new Map<ForwardingSegment, Int32Array>();
      return routing.under({
        componentOf: (ground) =>
          kept(
            components,
            ground,
            () => (ground.losses === undefined ? ground.tree : buildTree(ground.segment, [])).component,
          ),
        gone: () => false,
      });
    }),
    flowsBy: (other) => {
      const left = unchosenBy(other);
      return { flows: flowsOver(other, all()), unchosen: left === 'no choices' ? undefined : left };
    },
  };
}

function buildFlows(
  plan: Plan,
  joined: Joined,
  forwardingOf: ForwardingOf,
  routing: Network['routing'],
  unicastOf: (leg: Leg) => readonly Flow[],
): readonly Flow[] {
  const flows: Flow[] = [];
  for (const leg of plan.legs) {
    const { group } = leg;
    if (group === undefined) {
      flows.push(...unicastOf(leg));
      continue;
    }
    const forwarding = forwardingOf(leg);
    const from =
      leg.interface?.port === undefined ? undefined : forwarding?.segment.nodeOf.get(leg.interface.port.switch);
    if (forwarding === undefined || from === undefined) continue;
    const { here, beyond } = joined(leg, forwarding);
    const carried = beyond.size === 0 ? NOT_ROUTED : beyondRouters(leg, group, { forwarding, from }, beyond);
    const place = { forwarding, from, through: undefined, entry: leg.interface };
    const home = flowIn(leg, group, place, here, carried.onward);
    flows.push(home);
    addOnward(home, carried.next);
  }
  return flows;

  /** What a router carries on, where the stream gets to it. */
  function addOnward(from: Flow, next: readonly Carrying[]): void {
    for (const one of next) {
      if (!getsTo(from, one.flow.through)) continue;
      flows.push(one.flow);
      addOnward(one.flow, one.next);
    }
  }

  /** What routers carry on of a leg: one flow a wire that gets it. */
  function beyondRouters(
    leg: Leg,
    group: Address,
    home: Pick<Flow, 'forwarding' | 'from'>,
    wanted: ReadonlyMap<ForwardingSegment, readonly Reached[]>,
  ): CarriedOn {
    const byWire = new Map<Wire, Reached[]>();
    for (const [forwarding, receivers] of wanted) {
      for (const reached of receivers) {
        const wire = routing.wireOf({ forwarding, node: reached.node });
        if (wire !== undefined) append(byWire, wire, reached);
      }
    }
    const start = { forwarding: home.forwarding, node: home.from };
    return carryOn(routing.branches(start, byWire.keys(), isIPv4(group)), leg.ttl ?? Infinity);

    /** `left` is the TTL of packets in the segment the branches leave: a router drops what comes with 1. */
    function carryOn(branches: readonly Branch<Box>[], left: number): CarriedOn {
      const found = new Map<Box, Reached[]>();
      const next: Carrying[] = [];
      const drops = left <= 1;
      for (const { hop, next: further } of branches) {
        const { router, out } = hop;
        const forwarding = routing.groundOf(out.wire);
        const foot =
          forwarding === undefined ? undefined : planeOf(forwarding, group).routers.find((one) => one.on === router);
        if (forwarding === undefined || foot === undefined) continue;
        const receivers = byWire.get(out.wire) ?? NOBODY;
        const own = carryOn(further, left - 1);
        const place = { forwarding, from: foot.node, through: router, entry: foot.port };
        if (!drops) next.push({ flow: flowIn(leg, group, place, receivers, own.onward), next: own.next });
        kept(found, router, (): Reached[] => []).push(...receivers, ...own.onward.flatMap((one) => one.receivers));
      }
      if (found.size === 0) return NOT_ROUTED;
      return { onward: [...found].map(([on, receivers]) => ({ on, receivers, drops })), next };
    }
  }
}

/** What routers carry on from a segment. */
interface CarriedOn {
  readonly onward: readonly Onward[];
  readonly next: readonly Carrying[];
}

interface Carrying {
  readonly flow: Flow;
  readonly next: readonly Carrying[];
}

const FOLLOWED_BY_SWITCH: Around = { everywhere: undefined, somewhere: false };
const NO_FLOWS: readonly Flow[] = [];
const NOBODY: readonly Reached[] = [];
const NOT_ROUTED: CarriedOn = { onward: [], next: [] };

/** Whether a stream comes to a router that is to carry it on: everywhere but where a table of bound groups leaves it out. */
function getsTo(home: Flow, router: Switch | Device | undefined): boolean {
  const { byHand, routers } = home.plane;
  if (byHand === undefined) return true;
  const { nodes, ports } = spreadOf(home, byHand);
  return routers.some(
    ({ on, node, port }) => on === router && (port === undefined ? nodes.has(node) : ports.has(port)),
  );
}

function flowIn(
  leg: Leg,
  group: Address,
  place: Pick<Flow, 'forwarding' | 'from' | 'through' | 'entry'>,
  receivers: readonly Reached[],
  onward: readonly Onward[],
): Flow {
  const { forwarding, from } = place;
  const plane = planeOf(forwarding, group);
  const joined = receivers.some(({ node }) => forwarding.cuts.joined(node, from));
  const { everywhere, somewhere } =
    plane.byHand === undefined ? plane.floodAround(from, group, joined) : FOLLOWED_BY_SWITCH;
  return {
    leg,
    forwarding,
    from,
    through: place.through,
    entry: place.entry,
    plane,
    receivers,
    onward,
    to: undefined,
    flood: everywhere,
    partly: everywhere === undefined && somewhere,
  };
}

/** A flow where its segment has lost something. */
export function flowOn(flow: Flow, forwarding: ForwardingSegment): Flow {
  if (forwarding === flow.forwarding) return flow;
  const { leg, from, through, entry, receivers, onward } = flow;
  if (leg.group === undefined || forwarding.losses === undefined) return { ...flow, forwarding };
  return flowIn(leg, leg.group, { forwarding, from, through, entry }, receivers, onward);
}

/** The same flow for others that ask for it. */
export function withReceivers(flow: Flow, receivers: readonly Reached[], onward: readonly Onward[]): Flow {
  const { leg, forwarding, from, through, entry } = flow;
  if (leg.group === undefined) return flow;
  return flowIn(leg, leg.group, { forwarding, from, through, entry }, receivers, onward);
}

/** Routers that carry a flow on, where they stand: members for those beyond them. */
export function onwardRouters({ onward, plane }: Flow): readonly { readonly router: Sink; readonly to: Onward }[] {
  if (onward.length === 0) return NO_CROSSINGS;
  return onward.flatMap((to) => plane.routers.filter(({ on }) => on === to.on).map((router) => ({ router, to })));
}

const NO_CROSSINGS: readonly { readonly router: Sink; readonly to: Onward }[] = [];
