/**
 * Where a stream goes in a segment, switch by switch. A trace asks `carriedBy`; loads, burdens and tables add up the same
 * ways and floods without a list for each stream, and tests hold them, and the verdicts, equal to it.
 *
 * Reports travel only towards queriers and multicast routers (RFC 4541 §2.1.1 (1)), so a switch knows a group only where it
 * lies between a member and one of them; every stream is carried to these as well, joined or not (§2.1.2 (1)). In a tree
 * these ways together hold every switch that knows the group and the way from the sender to each member. What floods
 * leaves this hull from the switches that flood, and goes on as far as the next ones flood too: beyond the hull nobody
 * knows the group (measured on Open vSwitch and Linux bridges).
 */
import type { Interface, ReceiverLeg } from '../../plan/types.js';
import type { CarryReason } from './carry-reason.js';
import type { FloodReason } from './conduct.js';
import { onwardRouters, type Flow, type Reached } from './flows.js';
import type { ForwardingSegment } from './ground.js';
import { across } from './segment.js';
import { createSpreads, spreadOf } from './spread.js';
import type { Step } from './tree.js';

/** No bridge sends a frame back by the port it came in by (IEEE 802.1Q-2022 §8.6.1). */
export function isOwnPort(flow: Flow, host: Interface): boolean {
  return host === flow.entry;
}

/** True where switches snoop and no query comes to where the stream starts: what nobody floods goes nowhere. */
export function isUnasked({ plane, from }: Flow): boolean {
  return plane.asking[from] === 'nobody';
}

/** Marks of one walk, kept from flow to flow so that a walk costs no more than what it visits. */
export interface Marks {
  readonly hull: Int32Array;
  readonly registered: Int32Array;
  readonly flooding: Int32Array;
  stamp: number;
}

export function marksFor({ segment }: ForwardingSegment): Marks {
  const count = segment.nodes.length;
  return {
    hull: new Int32Array(count),
    registered: new Int32Array(count),
    flooding: new Int32Array(count),
    stamp: 0,
  };
}

/** Marks by segment, made once each. */
export function keptMarks(): (forwarding: ForwardingSegment) => Marks {
  const known = new Map<ForwardingSegment, Marks>();
  return (forwarding) => {
    let marks = known.get(forwarding);
    if (marks === undefined) known.set(forwarding, (marks = marksFor(forwarding)));
    return marks;
  };
}

/** Sees a stream flooded at a switch, or over a link out of the hull. */
export interface FloodVisitor {
  readonly node: (node: number, why: FloodReason) => void;
  readonly step: (step: Step, why: FloodReason) => void;
}

/** Visits what floods of a flow, beside what was asked for. Afterwards the marks of its stamp hold the switches that flood. */
export function walkFlood(flow: Flow, marks: Marks, visit: FloodVisitor): void {
  const { forwarding, from, plane } = flow;
  const { group } = flow.leg;
  if (group === undefined) return;
  const { segment, tree } = forwarding;
  const stamp = ++marks.stamp;
  const queue = markHull(flow, marks);
  const joined = flow.receivers.length > 0;
  for (const node of queue) {
    const known = isUnasked(flow) ? joined : marks.registered[node] === stamp;
    const why = plane.floodAt(node, group, known);
    if (why === undefined) continue;
    marks.flooding[node] = stamp;
    visit.node(node, why);
    for (const edge of segment.edgesAt[node] ?? []) {
      const other = across(edge, node);
      if (marks.hull[other] === stamp) continue;
      if (tree.parentEdge[other] !== edge && tree.parentEdge[node] !== edge) continue;
      marks.hull[other] = stamp;
      visit.step({ edge, from: node, to: other }, why);
      queue.push(other);
    }
  }

  function markHull({ receivers }: Flow, { hull, registered }: Marks): number[] {
    const nodes: number[] = [];
    const add = (node: number): void => {
      if (hull[node] === stamp) return;
      hull[node] = stamp;
      nodes.push(node);
    };
    add(from);
    const asking = plane.asking[from];
    if (asking === 'nobody') return nodes;
    for (const { node } of receivers) {
      const way = tree.path(from, node);
      if (way === undefined) continue;
      for (const step of way) add(step.to);
      registered[node] = stamp;
      if (asking === 'assumed') {
        registered[from] = stamp;
        for (const step of way) registered[step.to] = stamp;
      }
      for (const sink of plane.sinks) for (const step of tree.path(node, sink.node) ?? []) registered[step.to] = stamp;
    }
    for (const sink of plane.sinks) for (const step of tree.path(from, sink.node) ?? []) add(step.to);
    for (const { router } of onwardRouters(flow)) for (const step of tree.path(from, router.node) ?? []) add(step.to);
    return nodes;
  }
}

/** Whether a stream comes to somebody who asked for it. */
export function createArrival(): (flow: Flow, reached: Pick<Reached, 'node' | 'interface'>) => boolean {
  const floods = new Map<Flow, (node: number) => boolean>();
  const spreads = createSpreads();
  return (flow, { node, interface: via }) => {
    if (flow.plane.byHand !== undefined) return spreads(flow, flow.plane.byHand).ports.has(via);
    if (flow.forwarding.tree.component[node] !== flow.forwarding.tree.component[flow.from]) return false;
    if (flow.flood !== undefined || !isUnasked(flow)) return true;
    if (!flow.partly) return false;
    let nodes = floods.get(flow);
    if (nodes === undefined) floods.set(flow, (nodes = floodedNodes(flow, marksFor(flow.forwarding))));
    return nodes(node);
  };
}

/** Which switches flood a stream. The answer holds until the marks are used again. */
export function floodedNodes(flow: Flow, marks: Marks): (node: number) => boolean {
  const { component } = flow.forwarding.tree;
  if (flow.flood !== undefined) return (node) => component[node] === component[flow.from];
  if (!flow.partly) return () => false;
  walkFlood(flow, marks, { node: () => undefined, step: () => undefined });
  const { stamp } = marks;
  return (node) => marks.flooding[node] === stamp;
}

/** Everything that carries a flow, once each, with the first reason that holds. */
export interface Carried {
  readonly steps: ReadonlyMap<Step, CarryReason>;
  /** Host ports it leaves by. */
  readonly ports: ReadonlyMap<Interface, CarryReason>;
}

/** The flow's way, worked out in full: for one stream, not for a hundred thousand. */
export function carriedBy(flow: Flow): Carried {
  const { forwarding, from, plane } = flow;
  const { segment, tree } = forwarding;
  if (plane.byHand !== undefined) {
    const spread = spreadOf(flow, plane.byHand);
    return {
      steps: new Map([...spread.steps.values()].map(({ step, reason }) => [step, reason])),
      ports: spread.ports,
    };
  }
  const byEdge = new Map<number, { step: Step; reason: CarryReason }>();
  const ports = new Map<Interface, CarryReason>();
  const join = (steps: readonly Step[], by: readonly ReceiverLeg[]): void => {
    for (const step of steps) {
      const known = byEdge.get(step.edge.id);
      if (known === undefined) byEdge.set(step.edge.id, { step, reason: { kind: 'joined', by } });
      else if (known.reason.kind === 'joined') known.reason = { kind: 'joined', by: [...known.reason.by, ...by] };
    }
  };
  const leave = (port: Interface, by: readonly ReceiverLeg[]): void => {
    if (isOwnPort(flow, port)) return;
    const before = ports.get(port);
    ports.set(port, { kind: 'joined', by: [...(before?.kind === 'joined' ? before.by : []), ...by] });
  };
  if (flow.to !== undefined) {
    const { node, port } = flow.to;
    const to = port?.device ?? segment.nodes[node];
    const steps = tree.path(from, node);
    if (to !== undefined && steps !== undefined) {
      const reason: CarryReason = { kind: 'addressed', to, by: flow.receivers.map((one) => one.leg) };
      for (const step of steps) byEdge.set(step.edge.id, { step, reason });
      if (port !== undefined && !isOwnPort(flow, port)) ports.set(port, reason);
    }
  }
  const arrives = createArrival();
  for (const reached of flow.to === undefined ? flow.receivers : []) {
    if (!arrives(flow, reached)) continue;
    join(tree.path(from, reached.node) ?? [], [reached.leg]);
    leave(reached.interface, [reached.leg]);
  }
  for (const { router, to } of onwardRouters(flow)) {
    const by = to.receivers.map(({ leg }) => leg);
    const steps = tree.path(from, router.node);
    if (steps === undefined) continue;
    join(steps, by);
    if (router.port !== undefined) leave(router.port, by);
  }
  for (const sink of flow.flood === 'snooping off' ? [] : plane.sinks) {
    const reason: CarryReason = { kind: 'router port', towards: sink.on, why: sink.why };
    const steps = tree.path(from, sink.node);
    if (steps === undefined) continue;
    for (const step of steps) if (!byEdge.has(step.edge.id)) byEdge.set(step.edge.id, { step, reason });
    if (sink.port !== undefined && !isOwnPort(flow, sink.port) && !ports.has(sink.port)) ports.set(sink.port, reason);
  }
  const floodStep = (step: Step, why: FloodReason): void => {
    if (!byEdge.has(step.edge.id)) byEdge.set(step.edge.id, { step, reason: { kind: 'flooded', why } });
  };
  const floodPorts = (node: number, why: FloodReason): void => {
    for (const host of segment.hostsAt[node] ?? [])
      if (!isOwnPort(flow, host) && !ports.has(host)) ports.set(host, { kind: 'flooded', why });
  };
  if (flow.partly) walkFlood(flow, marksFor(forwarding), { node: floodPorts, step: floodStep });
  if (flow.flood !== undefined) {
    for (const node of segment.nodes.keys()) {
      const steps = tree.path(from, node);
      if (steps === undefined) continue;
      for (const step of steps) floodStep(step, flow.flood);
      floodPorts(node, flow.flood);
    }
  }
  return { steps: new Map([...byEdge.values()].map(({ step, reason }) => [step, reason])), ports };
}
