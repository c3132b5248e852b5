/** Links over which one stream goes to several receivers. */
import { groupBy } from '../../collections/group-by.js';
import { kept } from '../../collections/kept.js';
import type { Interface, Leg } from '../../plan/types.js';
import type { Flow } from './flows.js';
import type { GroupSegment } from './group-segments.js';
import type { Edge } from './segment.js';

export interface SharedEdge {
  readonly edge: Edge;
  readonly flow: Flow;
  /** Those that take the flow behind it. */
  readonly hosts: ReadonlySet<Interface>;
}

/** Bundles of links that carry one stream towards several receivers, each with the first such stream by its label. */
export function sharedEdges(segment: GroupSegment, label: (leg: Leg) => string): readonly SharedEdge[] {
  const found = new Map<Edge, SharedEdge>();
  for (const flow of segment.flows) {
    const far = flow.receivers.filter((one) => one.node !== flow.from);
    if (far.length < 2) continue;
    const behind = new Map<Edge, Set<Interface>>();
    for (const [node, own] of groupBy(far, (one) => one.node)) {
      for (const { edge } of flow.forwarding.tree.path(flow.from, node) ?? []) {
        const hosts = kept(behind, edge, () => new Set<Interface>());
        for (const one of own) hosts.add(one.interface);
      }
    }
    for (const [edge, hosts] of behind) {
      const known = found.get(edge);
      if (hosts.size > 1 && (known === undefined || label(flow.leg) < label(known.flow.leg)))
        found.set(edge, { edge, flow, hosts });
    }
  }
  return [...found.values()];
}
