/** What a failure leaves of the network: trees of the segments it touches, and the ways of streams through what is left. */
import type { Device, Link, Switch } from '../../plan/types.js';
import type { Network } from './flows.js';
import type { ForwardingSegment } from './ground.js';
import { treeWithout } from './losses.js';
import type { Gone } from './loops.js';
import type { Routing } from './routing/routing.js';
import type { Tree } from './tree.js';

/** Everything that fails at once. */
export interface Removal {
  readonly boxes: ReadonlySet<Switch | Device>;
  readonly links: ReadonlySet<Link>;
}

export interface Remains {
  readonly isLost: (link: Link) => boolean;
  /** Undefined where the failure does not touch a segment. */
  readonly treeOf: (forwarding: ForwardingSegment) => Tree | undefined;
  /** Ways through the routers that are left: each of them looks for its way back anew. */
  readonly routing: () => Routing<ForwardingSegment>;
}

export function remainsOf({ boxes, links }: Removal, network: Pick<Network, 'routing'>): Remains {
  const trees = new Map<ForwardingSegment, Tree | undefined>();
  const gone: Gone = { switches: new Set([...boxes].filter((box) => 'ports' in box)), links };
  const treeOf = (forwarding: ForwardingSegment): Tree | undefined => {
    if (trees.has(forwarding)) return trees.get(forwarding);
    const { segment, parts, losses } = forwarding;
    const touched =
      // What else fails in a loop may turn a tree that does not ask for VLANs.
      losses !== undefined ||
      [...gone.switches].some((one) => segment.nodeOf.has(one)) ||
      (links.size > 0 && segment.edges.some((edge) => edge.links.some((link) => links.has(link))));
    const tree = touched ? treeWithout(segment, parts, gone) : undefined;
    trees.set(forwarding, tree);
    return tree;
  };
  let routing: Routing<ForwardingSegment> | undefined;
  return {
    isLost: (link) => links.has(link),
    treeOf,
    routing: () =>
      (routing ??= network.routing.under({
        componentOf: (ground) => (treeOf(ground) ?? ground.tree).component,
        gone: (box) => boxes.has(box),
      })),
  };
}
