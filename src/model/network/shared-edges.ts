/** Links over which one stream goes to several receivers. */
import { groupBy } from '../../collections/group-by.js';
import { kept } from '../../collections/kept.js';
import { byLabel } from '../../collections/order.js';
import type { Interface, Leg, Link } from '../../plan/types.js';
import { linkLabel } from '../vlans/index.js';
import type { Flow } from './flows.js';
import type { GroupSegment } from './group-segments.js';
import type { Edge } from './segment.js';

export interface SharedEdge {
  readonly edge: Edge;
  /** The first of its links by name, which stands for the bundle. */
  readonly link: Link;
  readonly flow: Flow;
  /** Those that take the flow behind it. */
  readonly hosts: ReadonlySet<Interface>;
}

/** Bundles of links that carry one stream towards several receivers, by name, each with the first such stream by its label. */
export function sharedEdges(segment: GroupSegment, label: (leg: Leg) => string): readonly SharedEdge[] {
  const found = new Map<Edge, Omit<SharedEdge, 'edge' | 'link'>>();
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
        found.set(edge, { flow, hosts });
    }
  }
  const named = [...found].flatMap(([edge, own]) => {
    const [link] = byLabel(edge.links, linkLabel);
    return link === undefined ? [] : [{ edge, link, ...own }];
  });
  return byLabel(named, ({ link }) => linkLabel(link));
}
