/**
 * Where a stream goes in a segment where people set single ports: followed from switch to switch, each doing what it
 * knows. Elsewhere the sums of `forward.ts` and `load.ts` come to the same, faster; tests hold the two equal.
 */
import { addTo } from '../../collections/group-by.js';
import type { Device, Interface, Leg, ReceiverLeg, Switch } from '../../plan/types.js';
import type { Address } from '../../values/address.js';
import { goesOver, type ByHand } from './by-hand.js';
import type { CarryReason } from './carry-reason.js';
import type { Plane } from './plane.js';
import { across, type Edge, type Segment } from './segment.js';
import type { Step, Tree } from './tree.js';

/** What a flow is to be followed by: flows are made with the help of this, so their module is none of this one's. */
export interface Followed {
  readonly leg: Leg;
  readonly forwarding: { readonly segment: Segment; readonly tree: Tree };
  readonly plane: Plane;
  readonly from: number;
  readonly entry: Interface | undefined;
  readonly receivers: readonly { readonly leg: ReceiverLeg; readonly node: number; readonly interface: Interface }[];
  readonly onward: readonly {
    readonly on: Switch | Device;
    readonly receivers: readonly { readonly leg: ReceiverLeg }[];
  }[];
}

export interface Spread {
  /** By id of the edge. */
  readonly steps: ReadonlyMap<number, { readonly step: Step; readonly reason: CarryReason }>;
  readonly ports: ReadonlyMap<Interface, CarryReason>;
  /** Switches it comes to, the first one included. */
  readonly nodes: ReadonlySet<number>;
}

/** Why a port of a switch carries a stream, before it is known whose asking it serves. */
type Way = CarryReason | 'asked';

/** Kept by flow: loads, tables and verdicts ask for the same one. */
export function createSpreads(): (flow: Followed, byHand: ByHand) => Spread {
  const known = new Map<Followed, Spread>();
  return (flow, byHand) => {
    let spread = known.get(flow);
    if (spread === undefined) known.set(flow, (spread = spreadOf(flow, byHand)));
    return spread;
  };
}

export function spreadOf(flow: Followed, byHand: ByHand): Spread {
  const { forwarding, from, plane, entry, leg } = flow;
  const { segment, tree } = forwarding;
  const { group } = leg;
  const steps = new Map<number, { readonly step: Step; reason: CarryReason }>();
  const ports = new Map<Interface, CarryReason>();
  const nodes = new Set<number>([from]);
  if (group === undefined) return { steps, ports, nodes };
  const members = membersOf(flow);
  const hosts = members.filter(({ isHost }) => isHost);
  const reports = reportsOf(hosts, flow, byHand);
  const wants = wantsOf(members, flow);
  const hostWants = hosts.length === members.length ? wants : wantsOf(hosts, flow);
  const inTree = (edge: Edge): boolean => tree.parentEdge[edge.a] === edge || tree.parentEdge[edge.b] === edge;
  const queue: (readonly [node: number, by: Edge | undefined])[] = [[from, undefined]];
  for (const [node, by] of queue) {
    const overEdges = new Map<number, Way>();
    const toHosts = new Map<Interface, Way>();
    leave(node, group, overEdges, toHosts);
    for (const [host, way] of toHosts) if (host !== entry) ports.set(host, way === 'asked' ? joinedBy([]) : way);
    for (const edge of segment.edgesAt[node] ?? []) {
      const way = overEdges.get(edge.id);
      const to = across(edge, node);
      if (way === undefined || edge === by || nodes.has(to) || !inTree(edge)) continue;
      nodes.add(to);
      steps.set(edge.id, { step: { edge, from: node, to }, reason: way === 'asked' ? joinedBy([]) : way });
      queue.push([to, edge]);
    }
  }
  // Who asked and gets it is a better reason than what a table or a router port says.
  for (const { node, port, by } of members) {
    if (port !== undefined && !ports.has(port)) continue;
    if (!nodes.has(node)) continue;
    for (const { edge } of tree.path(from, node) ?? []) {
      const known = steps.get(edge.id);
      if (known !== undefined) known.reason = joinedBy(by, known.reason);
    }
    if (port !== undefined) ports.set(port, joinedBy(by, ports.get(port)));
  }
  return { steps, ports, nodes };

  function leave(at: number, to: Address, edges: Map<number, Way>, out: Map<Interface, Way>): void {
    const forwards = plane.conduct.nodes[at]?.forwarding ?? 'igmp';
    const bound = byHand.bound(at, to);
    const knows = isKnownAt(at, forwards);
    if (forwards === 'controlled' || (forwards === 'igmp' && plane.asking[at] !== 'nobody')) {
      const asked = forwards === 'igmp' && plane.asking[at] === 'heard' ? reports : wants;
      for (const id of asked.get(at) ?? []) edges.set(id, 'asked');
      for (const { node, port } of members) if (node === at && port !== undefined) out.set(port, 'asked');
    }
    const on = segment.nodes[at];
    if (bound !== undefined && on !== undefined) {
      const reason: CarryReason = { kind: 'bound', at: on };
      for (const edge of segment.edgesAt[at] ?? []) if (goesOver(bound, edge)) setOnce(edges, edge.id, reason);
      for (const host of bound.hosts) setOnce(out, host, reason);
    }
    if (forwards === 'igmp') {
      for (const sink of plane.sinks) {
        const reason: CarryReason = { kind: 'router port', towards: sink.on, why: sink.why };
        const [step] = tree.path(at, sink.node) ?? [];
        if (step !== undefined) setOnce(edges, step.edge.id, reason);
        if (sink.node === at && sink.port !== undefined) setOnce(out, sink.port, reason);
      }
      const set = byHand.routerPorts[at];
      for (const edge of set === undefined || set.links.size === 0 ? [] : (segment.edgesAt[at] ?? [])) {
        const beyond = segment.nodes[across(edge, at)];
        if (set !== undefined && beyond !== undefined && goesOver(set, edge)) setOnce(edges, edge.id, setPort(beyond));
      }
      for (const host of set?.hosts ?? []) setOnce(out, host, setPort(host.device));
    }
    // A table with the group in it says nothing of what every switch floods, or floods without asking its table: as one does
    // that floods while it hears no querier (measured on Linux bridges).
    const why = plane.floodAt(at, to, knows);
    const unasked =
      why === 'flooded address' ||
      why === 'snooping off' ||
      (why === 'no querier' && plane.conduct.nodes[at]?.noQuerier === 'flood');
    if (why === undefined || (bound !== undefined && !unasked)) return;
    for (const edge of segment.edgesAt[at] ?? []) setOnce(edges, edge.id, { kind: 'flooded', why });
    for (const host of segment.hostsAt[at] ?? []) setOnce(out, host, { kind: 'flooded', why });
  }

  /** Whether a switch has the group in its table. */
  function isKnownAt(at: number, forwards: string): boolean {
    if (forwards !== 'igmp') return forwards === 'controlled';
    const asking = plane.asking[at];
    if (asking === 'nobody') return flow.receivers.length > 0;
    const asked = asking === 'heard' ? reports : hostWants;
    return (asked.get(at)?.size ?? 0) > 0 || hosts.some(({ node }) => node === at);
  }
}

/** Who asks at a switch: a host, or a router for those beyond it. A router gets all without a report of its own. */
interface Member {
  readonly isHost: boolean;
  readonly node: number;
  readonly port: Interface | undefined;
  readonly by: readonly ReceiverLeg[];
}

function membersOf({ receivers, onward, plane }: Followed): readonly Member[] {
  return [
    ...receivers.map(({ node, interface: port, leg }): Member => ({ isHost: true, node, port, by: [leg] })),
    ...onward.flatMap((to) =>
      plane.routers
        .filter(({ on }) => on === to.on)
        .map(({ node, port }): Member => ({ isHost: false, node, port, by: to.receivers.map(({ leg }) => leg) })),
    ),
  ];
}

/** Edges by which reports come to each switch: they travel towards queriers and routers, and out of router ports set by hand. */
function reportsOf(
  members: readonly Member[],
  flow: Followed,
  byHand: ByHand,
): ReadonlyMap<number, ReadonlySet<number>> {
  const { forwarding, plane } = flow;
  const { segment, tree } = forwarding;
  const found = new Map<number, Set<number>>();
  const started = new Set<number>();
  for (const { node: start } of members) {
    if (started.has(start)) continue;
    started.add(start);
    const queue: (readonly [node: number, by: Edge | undefined])[] = [[start, undefined]];
    for (const [node, by] of queue) {
      const out = new Set<Edge>();
      for (const sink of plane.sinks) {
        const [step] = tree.path(node, sink.node) ?? [];
        if (step !== undefined) out.add(step.edge);
      }
      const set = byHand.routerPorts[node];
      for (const edge of set === undefined || set.links.size === 0 ? [] : (segment.edgesAt[node] ?? [])) {
        const inTree = tree.parentEdge[edge.a] === edge || tree.parentEdge[edge.b] === edge;
        if (set !== undefined && inTree && goesOver(set, edge)) out.add(edge);
      }
      for (const edge of out) {
        if (edge === by) continue;
        const to = across(edge, node);
        const known = found.get(to);
        if (known === undefined) found.set(to, new Set([edge.id]));
        else if (known.has(edge.id)) continue;
        else known.add(edge.id);
        queue.push([to, edge]);
      }
    }
  }
  return found;
}

/** Edges at each switch on the straight way to whoever asks. */
function wantsOf(members: readonly Member[], { from, forwarding }: Followed): ReadonlyMap<number, ReadonlySet<number>> {
  const found = new Map<number, Set<number>>();
  for (const node of new Set(members.map((one) => one.node))) {
    for (const step of forwarding.tree.path(from, node) ?? []) addTo(found, step.from, step.edge.id);
  }
  return found;
}

function setPort(towards: Switch | Device): CarryReason {
  return { kind: 'router port', towards, why: 'set by hand' };
}

function joinedBy(by: readonly ReceiverLeg[], before?: CarryReason): CarryReason {
  return { kind: 'joined', by: [...(before?.kind === 'joined' ? before.by : []), ...by] };
}

function setOnce<Key>(map: Map<Key, Way>, key: Key, way: Way): void {
  if (!map.has(key)) map.set(key, way);
}
