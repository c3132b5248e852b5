/**
 * What each link and host port carries, in bit/s on the wire; where inputs switch between streams, in the worst case.
 *
 * Streams that go where they were joined are added along their way; flooded ones are summed by the side of each link
 * they start on, so that the cost grows with streams and switches, not with their product.
 */
import type { Interface, Link, Plan, Port } from '../../plan/types.js';
import type { FlowRate } from '../streams/index.js';
import { chosenLoad, type ChosenLoad, type RateOf } from './chosen-load.js';
import { onwardRouters, type Flow, type Network } from './flows.js';
import { carriersOf, type ForwardingSegment } from './ground.js';
import { isOwnPort, isUnasked, marksFor, walkFlood, type Marks } from './forward.js';
import { isForward, type Edge } from './segment.js';
import { spreadOf } from './spread.js';
import type { Tree } from './tree.js';

/** Both directions of a link: from its first end to its second, and back. */
export interface LinkLoad {
  readonly there: number;
  readonly back: number;
}

export interface PortLoad {
  /** From the switch to the host. */
  readonly toHost: number;
  readonly fromHost: number;
  /** Part of `toHost` nobody asked for. */
  readonly flooded: number;
}

export type { RateOf };

export interface Load {
  readonly links: ReadonlyMap<Link, LinkLoad>;
  readonly ports: ReadonlyMap<Port, PortLoad>;
  /** Streams whose rate the plan does not give: every figure is that much too small. */
  readonly unrated: number;
  /** What of it is chosen by inputs that switch, in the worst case for each place; undefined where none does. */
  readonly chosen: ChosenLoad | undefined;
}

export function buildLoad(plan: Plan, network: Network, rateOf: RateOf): Load {
  const links = new Map<Link, { there: number; back: number }>();
  const ports = new Map<Port, { toHost: number; fromHost: number; flooded: number }>();
  for (const link of plan.links) links.set(link, { there: 0, back: 0 });
  const byForwarding = new Map<ForwardingSegment, Sums>(
    network.forwardings.map((forwarding) => [forwarding, sumsFor(forwarding)]),
  );
  let unrated = 0;

  for (const flow of network.unchosen ?? network.flows) {
    const rate = rateOf(flow);
    const sums = byForwarding.get(flow.forwarding);
    if (sums === undefined) continue;
    if (rate === undefined) {
      if (flow.through === undefined) unrated++;
      continue;
    }
    addFlow(flow, rate, sums, ports);
  }
  for (const [forwarding, sums] of byForwarding) {
    spreadFlood(forwarding, sums, ports);
    for (const edge of forwarding.segment.edges)
      spreadOverMembers(forwarding, edge, sums.along[edge.id] ?? 0, sums.against[edge.id] ?? 0, links);
  }
  const chosen = network.unchosen === undefined ? undefined : chosenLoad(network, network.unchosen, rateOf);
  if (chosen !== undefined) {
    for (const [link, { there, back }] of chosen.links) {
      const load = links.get(link);
      if (load === undefined) continue;
      load.there += there?.total ?? 0;
      load.back += back?.total ?? 0;
    }
    for (const [port, { total }] of chosen.ports) portOf(ports, port).toHost += total;
  }
  return { links, ports, unrated, chosen };
}

interface Sums {
  /** By edge: from its smaller node to its larger, and back. */
  readonly along: Float64Array;
  readonly against: Float64Array;
  /** Flooded rate that starts at each node, as links and as ports carry it. */
  readonly floodLink: Float64Array;
  readonly floodPort: Float64Array;
  /** Flooded rate that comes to each node's host ports from streams that only some switches flood. */
  readonly floodHere: Float64Array;
  /** Flooded rate each host itself sends, which does not come back to it. */
  readonly ownFlood: Map<Interface, number>;
  readonly marks: Marks;
  /** Marks edges and ports already counted for the flow at hand. */
  readonly seenEdge: Int32Array;
  readonly seenPort: Map<Interface, number>;
  stamp: number;
}

function sumsFor(forwarding: ForwardingSegment): Sums {
  const { edges, nodes } = forwarding.segment;
  return {
    along: new Float64Array(edges.length),
    against: new Float64Array(edges.length),
    floodLink: new Float64Array(nodes.length),
    floodPort: new Float64Array(nodes.length),
    floodHere: new Float64Array(nodes.length),
    ownFlood: new Map(),
    marks: marksFor(forwarding),
    seenEdge: new Int32Array(edges.length),
    seenPort: new Map(),
    stamp: 0,
  };
}

function addFlow(
  flow: Flow,
  rate: FlowRate,
  sums: Sums,
  ports: Map<Port, { toHost: number; fromHost: number; flooded: number }>,
): void {
  const { forwarding, from, entry, plane } = flow;
  if (entry?.port !== undefined) portOf(ports, entry.port).fromHost += rate.onPort;
  if (plane.byHand !== undefined) {
    const spread = spreadOf(flow, plane.byHand);
    for (const { step } of spread.steps.values()) {
      const side = step.from === step.edge.a ? sums.along : sums.against;
      side[step.edge.id] = (side[step.edge.id] ?? 0) + rate.onLink;
    }
    for (const [{ port }, reason] of spread.ports) {
      if (port === undefined) continue;
      const load = portOf(ports, port);
      load.toHost += rate.onPort;
      if (reason.kind === 'flooded') load.flooded += rate.onPort;
    }
    return;
  }
  if (flow.flood !== undefined) {
    sums.floodLink[from] = (sums.floodLink[from] ?? 0) + rate.onLink;
    sums.floodPort[from] = (sums.floodPort[from] ?? 0) + rate.onPort;
    addOwn(entry, rate.onPort, sums);
    const reached = flow.receivers.filter(
      ({ node }) => forwarding.tree.component[node] === forwarding.tree.component[from],
    );
    // What they asked for is not flood.
    for (const via of new Set(reached.map((one) => one.interface)))
      if (via.port !== undefined && !isOwnPort(flow, via)) portOf(ports, via.port).flooded -= rate.onPort;
    const to = flow.to?.port;
    const arrives = forwarding.tree.component[flow.to?.node ?? -1] === forwarding.tree.component[from];
    if (to?.port !== undefined && arrives && !reached.some((one) => one.interface === to))
      portOf(ports, to.port).flooded -= rate.onPort;
    return;
  }
  const stamp = ++sums.stamp;
  /** False when nothing leads there. */
  const walk = (to: number): boolean => {
    const steps = forwarding.tree.path(from, to);
    for (const step of steps ?? []) {
      const { id, a } = step.edge;
      if (sums.seenEdge[id] === stamp) continue;
      sums.seenEdge[id] = stamp;
      const side = step.from === a ? sums.along : sums.against;
      side[id] = (side[id] ?? 0) + rate.onLink;
    }
    return steps !== undefined;
  };
  const bring = (node: number, port: Interface | undefined): void => {
    if (walk(node) && port !== undefined && !isOwnPort(flow, port)) arrive(port, stamp, rate.onPort, sums, ports);
  };
  if (flow.to !== undefined) {
    bring(flow.to.node, flow.to.port);
    return;
  }
  if (flow.partly) spreadPartly(flow, rate, sums, ports);
  if (isUnasked(flow)) return;
  for (const reached of flow.receivers) bring(reached.node, reached.interface);
  for (const { router } of onwardRouters(flow)) bring(router.node, router.port);
  for (const sink of plane.sinks) bring(sink.node, sink.port);
}

/** What some switches flood and others do not: link by link, and summed for the hosts of each switch that floods. */
function spreadPartly(
  flow: Flow,
  rate: FlowRate,
  sums: Sums,
  ports: Map<Port, { toHost: number; fromHost: number; flooded: number }>,
): void {
  const { marks } = sums;
  walkFlood(flow, marks, {
    node: (node) => {
      sums.floodHere[node] = (sums.floodHere[node] ?? 0) + rate.onPort;
    },
    step: ({ edge, from }) => {
      const side = from === edge.a ? sums.along : sums.against;
      side[edge.id] = (side[edge.id] ?? 0) + rate.onLink;
    },
  });
  const floods = (node: number): boolean => marks.flooding[node] === marks.stamp;
  if (floods(flow.from)) addOwn(flow.entry, rate.onPort, sums);
  // Whoever asked gets it once, and not as a flood.
  for (const { node, interface: via } of new Map(flow.receivers.map((one) => [one.interface, one])).values()) {
    if (!floods(node) || via.port === undefined || isOwnPort(flow, via)) continue;
    const load = portOf(ports, via.port);
    load.flooded -= rate.onPort;
    if (!isUnasked(flow)) load.toHost -= rate.onPort;
  }
  for (const { node, port } of flow.plane.sinks) {
    if (port?.port === undefined || !floods(node) || isOwnPort(flow, port)) continue;
    if (flow.receivers.some((one) => one.interface === port)) continue;
    const load = portOf(ports, port.port);
    load.flooded -= rate.onPort;
    load.toHost -= rate.onPort;
  }
}

/** A flood does not come back to the port it came in by. */
function addOwn(entry: Interface | undefined, rateBps: number, sums: Sums): void {
  if (entry !== undefined) sums.ownFlood.set(entry, (sums.ownFlood.get(entry) ?? 0) + rateBps);
}

function arrive(
  via: Interface,
  stamp: number,
  rate: number,
  sums: Sums,
  ports: Map<Port, { toHost: number; fromHost: number; flooded: number }>,
): void {
  if (via.port === undefined || sums.seenPort.get(via) === stamp) return;
  sums.seenPort.set(via, stamp);
  portOf(ports, via.port).toHost += rate;
}

/** Over each tree edge goes what floods from one side to the other; to each host, all but its own. */
function spreadFlood(
  forwarding: ForwardingSegment,
  sums: Sums,
  ports: Map<Port, { toHost: number; fromHost: number; flooded: number }>,
): void {
  const { segment, tree } = forwarding;
  const onLinks = sumsBelow(tree, sums.floodLink);
  const onPorts = sumsBelow(tree, sums.floodPort);
  for (const node of tree.order) {
    const root = tree.component[node] ?? node;
    const total = onLinks[root] ?? 0;
    const here = sums.floodHere[node] ?? 0;
    if (total === 0 && here === 0) continue;
    const edge = tree.parentEdge[node];
    if (edge !== undefined && total > 0) {
      const up = onLinks[node] ?? 0;
      const upSide = edge.a === node ? sums.along : sums.against;
      const downSide = edge.a === node ? sums.against : sums.along;
      upSide[edge.id] = (upSide[edge.id] ?? 0) + up;
      downSide[edge.id] = (downSide[edge.id] ?? 0) + total - up;
    }
    for (const host of segment.hostsAt[node] ?? []) {
      if (host.port === undefined) continue;
      const heard = (onPorts[root] ?? 0) + here - (sums.ownFlood.get(host) ?? 0);
      const load = portOf(ports, host.port);
      load.toHost += heard;
      load.flooded += heard;
    }
  }
}

/** For each node, the sum over itself and everything below it in the tree. */
function sumsBelow(tree: Tree, values: Float64Array): Float64Array {
  const below = Float64Array.from(values);
  for (let index = tree.order.length - 1; index >= 0; index--) {
    const node = tree.order[index] ?? 0;
    const parent = tree.parent[node] ?? -1;
    if (parent !== -1) below[parent] = (below[parent] ?? 0) + (below[node] ?? 0);
  }
  return below;
}

/** A stated aggregate shares its load evenly; of links merely side by side one forwards, the others wait. */
function spreadOverMembers(
  forwarding: ForwardingSegment,
  edge: Edge,
  along: number,
  against: number,
  links: Map<Link, { there: number; back: number }>,
): void {
  const members = carriersOf(forwarding, edge);
  for (const link of members) {
    const load = links.get(link);
    if (load === undefined) continue;
    const forward = isForward(forwarding.segment, edge, link);
    load.there += (forward ? along : against) / members.length;
    load.back += (forward ? against : along) / members.length;
  }
}

function portOf(
  ports: Map<Port, { toHost: number; fromHost: number; flooded: number }>,
  port: Port,
): { toHost: number; fromHost: number; flooded: number } {
  let load = ports.get(port);
  if (load === undefined) ports.set(port, (load = { toHost: 0, fromHost: 0, flooded: 0 }));
  return load;
}
