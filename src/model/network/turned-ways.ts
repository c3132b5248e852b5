/**
 * What a turned spanning tree does to memberships where queries end with the same failure: switches on the new way never
 * heard a report, and none will come (RFC 4541 §2.1.1: reports go towards queriers and routers alone). Seen on Open vSwitch.
 */
import type { Link, Switch } from '../../plan/types.js';
import { kept } from '../../collections/kept.js';
import type { Network } from './flows.js';
import { planeOf, type ForwardingSegment } from './ground.js';
import { goneOf, treeWithout } from './losses.js';
import type { Plane } from './plane.js';
import { buildTree, type Step, type Tree } from './tree.js';
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
  const queried = new Map<Plane, ReadonlySet<string>>();
  const reported = new Map<Way['leg'], ReadonlySet<string>>();
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
    const before = forwarding.tree.path(from, to) ?? [];
    if (now.length === before.length && now.every(({ edge }, index) => edge === before[index]?.edge)) return false;
    const plane = planeOf(forwarding, group);
    return now.some(
      (step) =>
        plane.floodAt(step.from, group, false) === undefined &&
        !kept(queried, plane, () => towardsQueriers(forwarding, plane)).has(keyOf(step)) &&
        !kept(reported, leg, () => towardsMembers(leg, forwarding, network)).has(keyOf(step)),
    );
  };
  return {
    endsAlong,
    endsWithout: (way, lost) => {
      const [{ forwarding }] = way.stages;
      return forwarding.parts.length > 0 && endsAlong(way, treeOf(forwarding, lost));
    },
  };
}

/** Steps out of ports by which switches have heard queries, or a router. */
function towardsQueriers({ tree, segment }: ForwardingSegment, { sinks }: Plane): ReadonlySet<string> {
  const found = new Set<string>();
  const used = new Set(tree.parentEdge);
  const edges = new Set(segment.edges.filter((edge) => !used.has(edge)));
  for (const { node: sink } of sinks)
    for (const [from, edge] of buildTree(segment, [sink], { edges }).parentEdge.entries())
      if (edge !== undefined) found.add(keyOf({ edge, from }));
  return found;
}

/** Steps out of ports by which switches have heard a report for a leg. */
function towardsMembers(
  leg: Way['leg'],
  forwarding: ForwardingSegment,
  { flowsOf }: Pick<Network, 'flowsOf'>,
): ReadonlySet<string> {
  const { tree } = forwarding;
  const { sinks } = planeOf(forwarding, leg.group);
  const found = new Set<string>();
  const members = new Set(
    flowsOf(leg)
      .filter((flow) => flow.forwarding === forwarding)
      .flatMap(({ receivers }) => receivers.map(({ node }) => node)),
  );
  for (const { node: sink } of sinks)
    for (const member of members)
      for (const { edge, to } of tree.path(member, sink) ?? []) found.add(keyOf({ edge, from: to }));
  return found;
}

function keyOf({ edge, from }: Pick<Step, 'edge' | 'from'>): string {
  return `${edge.id} ${from}`;
}
