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
import { buildTree, type Step, takesOthers, type Tree } from './tree.js';
import type { Way } from './way.js';

export interface TurnedWays {
  /**
   * Whether a way that now crosses one segment ends at once when a single thing is lost and nobody queries any more. False
   * where a switch may flood what it has no member for: there somebody else's membership decides.
   */
  readonly endsWithout: (way: Way, lost: Switch | Link) => boolean;
  /** The same along a tree of what is left. */
  readonly endsAlong: (way: Way, tree: Tree) => boolean;
  /** Where nobody queries and a way lives by what its switches flood: single things whose loss turns it to one that does not. */
  readonly endings: (way: Way) => readonly (Switch | Link)[];
}

/** Whether a way comes to its end only as switches flood what they have no querier for, and not all around do. */
export function isPartlyFlooded({ leg, stages: [only, ...others] }: Way): boolean {
  const { forwarding, to } = only;
  if (others.length > 0 || leg.group === undefined || forwarding.parts.length === 0) return false;
  const plane = planeOf(forwarding, leg.group);
  return plane.byHand === undefined && plane.asking[to] === 'nobody' && !plane.floodsUnqueried(to);
}

export function createTurnedWays(network: Pick<Network, 'flowsOf'>): TurnedWays {
  const without = new Map<ForwardingSegment, Map<Switch | Link, Turned>>();
  const queried = new Map<Plane, ReadonlySet<number>>();
  const members = new Map<Way['leg'], ReadonlySet<number>>();
  const reported = new Map<Way['leg'], ReadonlySet<number>>();
  const membersAt = (leg: Way['leg'], forwarding: ForwardingSegment): ReadonlySet<number> =>
    kept(members, leg, () => membersOf(leg, forwarding, network));
  const ends = ({ leg, stages: [{ forwarding, from, to }] }: Way, { tree, shared, anew }: Turned): boolean => {
    const { group } = leg;
    if (!anew || group === undefined || shared[from] === shared[to]) return false;
    const plane = planeOf(forwarding, group);
    // Where nobody queries a report goes no further than its own switch.
    const joined = (node: number): boolean => plane.asking[node] === 'nobody' && membersAt(leg, forwarding).has(node);
    return (tree.path(from, to) ?? []).some(
      (step) =>
        plane.floodAt(step.from, group, joined(step.from)) === undefined &&
        !kept(queried, plane, () => towardsQueriers(forwarding, plane)).has(keyOf(step)) &&
        !kept(reported, leg, () => towardsMembers(leg, forwarding, membersAt(leg, forwarding))).has(keyOf(step)),
    );
  };
  const byTree = new Map<Tree, Turned>();
  // Asked for every way: nothing is made where the answer is known.
  const turnedBy = (forwarding: ForwardingSegment, lost: Switch | Link): Turned => {
    let own = without.get(forwarding);
    if (own === undefined) without.set(forwarding, (own = new Map<Switch | Link, Turned>()));
    let turned = own.get(lost);
    if (turned === undefined) {
      turned = turnedTo(forwarding, treeWithout(forwarding.segment, forwarding.parts, goneOf(lost)));
      own.set(lost, turned);
    }
    return turned;
  };
  return {
    endings: (way) => {
      const [{ forwarding }] = way.stages;
      const things = isPartlyFlooded(way) ? new Set(forwarding.parts.flatMap((part) => part.turning())) : [];
      return [...things].filter((thing) => ends(way, turnedBy(forwarding, thing)));
    },
    endsAlong: (way, tree) =>
      ends(
        way,
        kept(byTree, tree, () => turnedTo(way.stages[0].forwarding, tree)),
      ),
    endsWithout: (way, lost) => {
      const [{ forwarding }] = way.stages;
      return forwarding.parts.length > 0 && ends(way, turnedBy(forwarding, lost));
    },
  };
}

interface Turned {
  readonly tree: Tree;
  /** By node; equal for two whose way is the same as before. */
  readonly shared: Int32Array;
  /** False where it takes no other edges than the tree of the whole network. */
  readonly anew: boolean;
}

function turnedTo(forwarding: ForwardingSegment, tree: Tree): Turned {
  const { segment } = forwarding;
  const before = new Set(forwarding.tree.parentEdge);
  const now = new Set(tree.parentEdge);
  const others = new Set(segment.edges.filter((edge) => !before.has(edge) || !now.has(edge)));
  return {
    tree,
    shared: buildTree(segment, [], { edges: others }).component,
    anew: takesOthers(tree, forwarding.tree),
  };
}

/** Steps out of ports by which switches have heard queries, or a router. */
function towardsQueriers({ tree, segment }: ForwardingSegment, { sinks }: Plane): ReadonlySet<number> {
  const found = new Set<number>();
  const used = new Set(tree.parentEdge);
  const edges = new Set(segment.edges.filter((edge) => !used.has(edge)));
  for (const { node: sink } of sinks) {
    const { parentEdge, component } = buildTree(segment, [sink], { edges });
    for (const [from, edge] of parentEdge.entries())
      if (edge !== undefined && component[from] === sink) found.add(keyOf({ edge, from }));
  }
  return found;
}

/** Steps out of ports by which switches have heard a report for a leg. */
function towardsMembers(
  leg: Way['leg'],
  forwarding: ForwardingSegment,
  members: ReadonlySet<number>,
): ReadonlySet<number> {
  const { tree } = forwarding;
  const { sinks } = planeOf(forwarding, leg.group);
  const found = new Set<number>();
  for (const { node: sink } of sinks)
    for (const member of members)
      for (const { edge, to } of tree.path(member, sink) ?? []) found.add(keyOf({ edge, from: to }));
  return found;
}

/** Switches with hosts that join a leg. */
function membersOf(
  leg: Way['leg'],
  forwarding: ForwardingSegment,
  { flowsOf }: Pick<Network, 'flowsOf'>,
): ReadonlySet<number> {
  const found = new Set<number>();
  for (const flow of flowsOf(leg))
    if (flow.forwarding === forwarding) for (const { node } of flow.receivers) found.add(node);
  return found;
}

/** A number for each direction of an edge. */
function keyOf({ edge, from }: Pick<Step, 'edge' | 'from'>): number {
  return 2 * edge.id + (edge.a === from ? 0 : 1);
}
