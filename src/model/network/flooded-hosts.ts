/** Which hosts get what a switch floods for one reason: flow by flow, summed by switch. */
import type { Interface, Leg } from '../../plan/types.js';
import type { FloodReason } from './conduct.js';
import { lineRate, slowestOf, type FloodedHost } from './flood.js';
import type { Flow } from './flows.js';
import type { ForwardingSegment } from './ground.js';
import { isOwnPort, marksFor, walkFlood } from './forward.js';
import { spreadOf } from './spread.js';

export interface FloodedBystanders {
  /** Streams that come to a host which did not ask for them. */
  readonly legs: readonly Leg[];
  readonly hosts: readonly FloodedHost[];
  readonly slowest: FloodedHost | undefined;
}

/** All flows are of one segment. Streams of unknown rate are left out: every figure is at least that. */
export function floodedBystanders(
  forwarding: ForwardingSegment,
  flows: readonly Flow[],
  reason: FloodReason,
  rateOf: (leg: Leg) => number | undefined,
): FloodedBystanders {
  const { segment, tree } = forwarding;
  const marks = marksFor(forwarding);
  const atNode = new Float64Array(segment.nodes.length);
  const spared = new Map<Interface, number>();
  const legs: Leg[] = [];
  for (const flow of flows) {
    const rate = rateOf(flow.leg);
    if (rate === undefined) continue;
    if (flow.plane.byHand !== undefined) {
      let found = false;
      for (const [host, why] of spreadOf(flow, flow.plane.byHand).ports) {
        if (why.kind !== 'flooded' || why.why !== reason) continue;
        spared.set(host, (spared.get(host) ?? 0) - rate);
        found = true;
      }
      if (found) legs.push(flow.leg);
      continue;
    }
    const nodes = new Set<number>();
    if (flow.flood === reason) {
      for (const node of segment.nodes.keys()) if (tree.component[node] === tree.component[flow.from]) nodes.add(node);
    } else if (flow.partly) {
      walkFlood(flow, marks, {
        node: (node, why) => {
          if (why === reason) nodes.add(node);
        },
        step: () => undefined,
      });
    }
    let bystanders = 0;
    for (const node of nodes) {
      atNode[node] = (atNode[node] ?? 0) + rate;
      bystanders += segment.hostsAt[node]?.length ?? 0;
    }
    for (const host of askers(flow)) {
      const node = host.port === undefined ? undefined : segment.nodeOf.get(host.port.switch);
      if (node === undefined || !nodes.has(node)) continue;
      spared.set(host, (spared.get(host) ?? 0) + rate);
      bystanders--;
    }
    if (bystanders > 0) legs.push(flow.leg);
  }
  const hosts = segment.hostsAt.flatMap((own, node) =>
    own.flatMap((host): FloodedHost[] => {
      const floodBps = (atNode[node] ?? 0) - (spared.get(host) ?? 0);
      return floodBps > 0 ? [{ host, rateBps: lineRate(host), floodBps, allBps: floodBps }] : [];
    }),
  );
  return { legs, hosts, slowest: slowestOf(hosts) };
}

/** Who gets the stream by right at its own port: who asked, who queries or routes; and who sends it does not get it back. */
function askers(flow: Flow): ReadonlySet<Interface> {
  const found = new Set<Interface>();
  if (flow.entry !== undefined) found.add(flow.entry);
  for (const { interface: via } of flow.receivers) found.add(via);
  for (const { port } of flow.plane.sinks) if (port !== undefined && !isOwnPort(flow, port)) found.add(port);
  return found;
}
