/** What a failure leaves of the network: trees of the segments it touches, and the ways of streams through what is left. */
import type { Device, Interface, Link, Switch } from '../../plan/types.js';
import type { Network } from './flows.js';
import type { ForwardingSegment } from './ground.js';
import { treeWithout } from './losses.js';
import type { Gone } from './loops.js';
import type { Routing } from './routing/routing.js';
import { kept } from '../../collections/kept.js';
import { buildTree, type Tree } from './tree.js';

/** Everything that fails at once. */
export interface Removal {
  readonly boxes: ReadonlySet<Switch | Device>;
  readonly links: ReadonlySet<Link>;
  /** Of devices that stand. */
  readonly interfaces?: ReadonlySet<Interface>;
}

export interface Remains {
  readonly isLost: (link: Link) => boolean;
  /** By node, first node of each part, -1 where it is gone; undefined where the failure does not touch a segment. */
  readonly componentOf: (forwarding: ForwardingSegment) => Int32Array | undefined;
  /** The way frames take then; that of the whole where the failure does not touch a segment. */
  readonly treeOf: (forwarding: ForwardingSegment) => Tree;
  /** Ways through the routers that are left: each of them looks for its way back anew. */
  readonly routing: () => Routing<ForwardingSegment>;
}

export function remainsOf({ boxes, links }: Removal, network: Pick<Network, 'routing'>): Remains {
  const trees = new Map<ForwardingSegment, Tree>();
  const components = new Map<ForwardingSegment, Int32Array | undefined>();
  const gone: Gone = { switches: new Set([...boxes].filter((box) => 'ports' in box)), links };
  const grow = (forwarding: ForwardingSegment): Tree =>
    kept(trees, forwarding, () => treeWithout(forwarding.segment, forwarding.parts, gone));
  const partsLeft = (forwarding: ForwardingSegment): Int32Array | undefined => {
    const { segment, losses } = forwarding;
    // What else fails in a loop may turn a tree that does not ask for VLANs.
    if (losses !== undefined) return grow(forwarding).component;
    const nodes = new Set([...gone.switches].flatMap((one) => segment.nodeOf.get(one) ?? []));
    const edges = new Set(
      links.size === 0 ? [] : segment.edges.filter((edge) => edge.links.every((link) => links.has(link))),
    );
    // Whatever a tree blocks of links that all carry the segment, it joins what they join.
    return nodes.size === 0 && edges.size === 0 ? undefined : buildTree(segment, [], { nodes, edges }).component;
  };
  // Ways that are asked about one after the other mostly cross the same segment.
  let last: { readonly forwarding: ForwardingSegment; readonly component: Int32Array | undefined } | undefined;
  const componentOf = (forwarding: ForwardingSegment): Int32Array | undefined => {
    if (last?.forwarding === forwarding) return last.component;
    if (!components.has(forwarding)) components.set(forwarding, partsLeft(forwarding));
    last = { forwarding, component: components.get(forwarding) };
    return last.component;
  };
  let routing: Routing<ForwardingSegment> | undefined;
  return {
    isLost: (link) => links.has(link),
    componentOf,
    treeOf: (forwarding) => (componentOf(forwarding) === undefined ? forwarding.tree : grow(forwarding)),
    routing: () =>
      (routing ??= network.routing.under({
        componentOf: (ground) => componentOf(ground) ?? ground.tree.component,
        gone: (box) => boxes.has(box),
      })),
  };
}
