/** What comes in at a few hosts, and what floods whole segments: one pass over the flows for all of them. */
import { groupBy } from '../../collections/group-by.js';
import type { Interface, Leg } from '../../plan/types.js';
import type { FloodReason } from './conduct.js';
import type { Flow, Network } from './flows.js';
import type { ForwardingSegment } from './ground.js';
import { createArrival, floodedNodes, isOwnPort, keptMarks, walkFlood, type Marks } from './forward.js';
import type { RateOf } from './load.js';
import { spreadOf } from './spread.js';

/** What reaches a host without being flooded. */
export interface Arrivals {
  /** Streams it takes or cannot be kept from, each with its rate in bit/s. */
  readonly joined: ReadonlyMap<Leg, number>;
  /** Streams it gets only as the querier or multicast router it is. */
  readonly asRouterBps: number;
  /** Streams it gets only because they are bound to its port. */
  readonly boundBps: number;
}

/** The arrivals at some hosts. */
export function arrivalsAt(
  network: Network,
  rateOf: RateOf,
  hosts: ReadonlySet<Interface>,
): ReadonlyMap<Interface, Arrivals> {
  const found = new Map<Interface, { readonly joined: Map<Leg, number>; asRouterBps: number; boundBps: number }>();
  for (const host of hosts) found.set(host, { joined: new Map(), asRouterBps: 0, boundBps: 0 });
  if (hosts.size === 0) return found;
  const arrives = createArrival();
  for (const flow of network.unchosen ?? network.flows) {
    const rate = rateOf(flow)?.onPort;
    if (rate === undefined) continue;
    for (const reached of flow.receivers) {
      const via = reached.interface;
      if (!isOwnPort(flow, via) && arrives(flow, reached)) found.get(via)?.joined.set(flow.leg, rate);
    }
    const to = flow.to?.port;
    if (to !== undefined && !isOwnPort(flow, to)) found.get(to)?.joined.set(flow.leg, rate);
    const { byHand } = flow.plane;
    if (byHand !== undefined) {
      for (const [host, reason] of spreadOf(flow, byHand).ports) {
        const arrivals = reason.kind === 'router port' || reason.kind === 'bound' ? found.get(host) : undefined;
        if (arrivals === undefined || arrivals.joined.has(flow.leg)) continue;
        if (reason.kind === 'bound') arrivals.boundBps += rate;
        else arrivals.asRouterBps += rate;
      }
      continue;
    }
    if (flow.flood !== undefined) continue;
    for (const { port } of flow.plane.sinks) {
      const arrivals = port === undefined || isOwnPort(flow, port) ? undefined : found.get(port);
      if (arrivals !== undefined && !arrivals.joined.has(flow.leg)) arrivals.asRouterBps += rate;
    }
  }
  return found;
}

/** What some hosts get flooded and did not ask for, in bit/s. */
export function floodingAt(
  network: Network,
  rateOf: RateOf,
  hosts: ReadonlySet<Interface>,
): ReadonlyMap<Interface, number> {
  const found = new Map<Interface, number>();
  const marksOf = keptMarks();
  const byForwarding = groupBy([...hosts], (host) =>
    network.forwardingOf({ vlan: host.vlan, network: host.network, interface: host }),
  );
  for (const flow of network.unchosen ?? network.flows) {
    const { forwarding, receivers } = flow;
    const { byHand } = flow.plane;
    if (byHand !== undefined) {
      const onPort = rateOf(flow)?.onPort ?? 0;
      for (const [host, { kind }] of spreadOf(flow, byHand).ports)
        if (kind === 'flooded' && hosts.has(host)) found.set(host, (found.get(host) ?? 0) + onPort);
      continue;
    }
    const here = flow.flood === undefined && !flow.partly ? undefined : byForwarding.get(forwarding);
    const rate = here === undefined ? undefined : rateOf(flow)?.onPort;
    if (here === undefined || rate === undefined) continue;
    const floods = floodedNodes(flow, marksOf(forwarding));
    const asked = new Set([
      ...receivers.map((one) => one.interface),
      ...(flow.to?.port === undefined ? [] : [flow.to.port]),
    ]);
    for (const host of here) {
      const node = host.port === undefined ? undefined : forwarding.segment.nodeOf.get(host.port.switch);
      if (node === undefined || !floods(node) || isOwnPort(flow, host) || asked.has(host)) continue;
      found.set(host, (found.get(host) ?? 0) + rate);
    }
  }
  return found;
}

/** What a segment floods, everywhere or from some of its switches. */
export interface Flooding {
  readonly rateBps: number;
  readonly streams: number;
  readonly reasons: ReadonlySet<FloodReason>;
}

/** The flooding of every segment that floods. */
export function floodings(network: Network, rateOf: RateOf): ReadonlyMap<ForwardingSegment, Flooding> {
  const found = new Map<ForwardingSegment, { rateBps: number; streams: number; readonly reasons: Set<FloodReason> }>();
  const marksOf = keptMarks();
  for (const flow of network.unchosen ?? network.flows) {
    const reasons = floodReasons(flow, marksOf);
    const rate = reasons.length === 0 ? undefined : rateOf(flow)?.onPort;
    if (rate === undefined) continue;
    let one = found.get(flow.forwarding);
    if (one === undefined) found.set(flow.forwarding, (one = { rateBps: 0, streams: 0, reasons: new Set() }));
    one.rateBps += rate;
    one.streams++;
    for (const reason of reasons) one.reasons.add(reason);
  }
  return found;
}

function floodReasons(flow: Flow, marksOf: (forwarding: ForwardingSegment) => Marks): readonly FloodReason[] {
  if (flow.flood !== undefined) return [flow.flood];
  const found = new Set<FloodReason>();
  const { byHand } = flow.plane;
  if (byHand !== undefined) {
    const { steps, ports } = spreadOf(flow, byHand);
    for (const reason of [...[...steps.values()].map((one) => one.reason), ...ports.values()])
      if (reason.kind === 'flooded') found.add(reason.why);
    return [...found];
  }
  if (!flow.partly) return [];
  walkFlood(flow, marksOf(flow.forwarding), { node: (_, why) => found.add(why), step: () => undefined });
  return [...found];
}
