/**
 * What a turned spanning tree does to memberships where queries end with the same failure: switches on the new way never
 * heard a report, and none will come (RFC 4541 §2.1.1: reports go towards queriers and routers alone). Seen on Open vSwitch.
 */
import type { Link, Switch } from '../../plan/types.js';
import { kept } from '../../collections/kept.js';
import type { Network } from './flows.js';
import { planeOf, type ForwardingSegment } from './ground.js';
import { goneOf, treeWithout } from './losses.js';
import type { Step, Tree } from './tree.js';
import type { Way } from './way.js';

export interface TurnedWays {
  /**
   * Whether a way that now crosses one segment ends at once when a single thing is lost and nobody queries any more. False
   * where a switch may flood what it has no member for: there somebody else's membership decides.
   */
  readonly endsWithout: (way: Way, lost: Switch | Link) => boolean;
  /** The same along a tree of what is left. */
  readonly endsAlong: (way: Way, tree: Tree) => boolean;
}

export function createTurnedWays(network: Pick<Network, 'flowsOf'>): TurnedWays {
  const trees = new Map<ForwardingSegment, Map<Switch | Link, Tree>>();
  const served = new Map<Way['leg'], ReadonlySet<string>>();
  const treeOf = (forwarding: ForwardingSegment, lost: Switch | Link): Tree =>
    kept(
      kept(trees, forwarding, () => new Map<Switch | Link, Tree>()),
      lost,
      () => treeWithout(forwarding.segment, forwarding.parts, goneOf(lost)),
    );
  const endsAlong: TurnedWays['endsAlong'] = ({ leg, stages: [{ forwarding, from, to }] }, tree) => {
    const { group } = leg;
    if (group === undefined || forwarding.parts.length === 0) return false;
    const now = tree.path(from, to) ?? [];
    const plane = planeOf(forwarding, group);
    const ports = kept(served, leg, () => servedSteps(leg, forwarding, network));
    return now.some((step) => !ports.has(keyOf(step)) && plane.floodAt(step.from, group, false) === undefined);
  };
  return {
    endsAlong,
    endsWithout: (way, lost) => {
      const [{ forwarding }] = way.stages;
      return forwarding.parts.length > 0 && endsAlong(way, treeOf(forwarding, lost));
    },
  };
}

/** Steps into ports by which a switch has heard a report, queries, or a router. */
function servedSteps(
  leg: Way['leg'],
  forwarding: ForwardingSegment,
  { flowsOf }: Pick<Network, 'flowsOf'>,
): ReadonlySet<string> {
  const { tree, segment } = forwarding;
  const { sinks } = planeOf(forwarding, leg.group);
  const found = new Set<string>();
  const members = new Set(
    flowsOf(leg)
      .filter((flow) => flow.forwarding === forwarding)
      .flatMap(({ receivers }) => receivers.map(({ node }) => node)),
  );
  for (const { node: sink } of sinks) {
    for (const node of segment.nodes.keys()) {
      const [first] = tree.path(node, sink) ?? [];
      if (first !== undefined) found.add(keyOf(first));
    }
    for (const member of members)
      for (const { edge, from, to } of tree.path(member, sink) ?? []) found.add(keyOf({ edge, from: to, to: from }));
  }
  return found;
}

function keyOf({ edge, from }: Step): string {
  return `${edge.id} ${from}`;
}
