/**
 * Ways round a failure where groups are bound to ports by hand: the spanning tree may find one, but the tables do not
 * follow it. What stands on the way of a reception is then needed, though the segment has a loop.
 */
import { kept } from '../../collections/kept.js';
import type { Interface, Link, Switch } from '../../plan/types.js';
import { carriersOf, planeOf, type ForwardingSegment } from './ground.js';
import { goneOf, treeWithout } from './losses.js';
import { type ElementKeys, type Found, keyOfThing } from './starvation.js';
import { takesOthers, type Tree } from './tree.js';
import { unboundIn } from './unbound.js';
import type { Stage, Way } from './way.js';

/** Whether the tables of a stage send a stream on to its end, along a tree. */
export function isBoundAlong(
  treeOf: (forwarding: ForwardingSegment) => Tree,
  stage: Stage,
  way: Way,
  isLost?: (link: Link) => boolean,
): boolean {
  const { forwarding, from } = stage;
  const plane = planeOf(forwarding, way.leg.group);
  if (plane.byHand === undefined) return true;
  const start = {
    leg: way.leg,
    plane,
    from,
    entry: entryOf(stage, way),
    forwarding: { ...forwarding, tree: treeOf(forwarding) },
  };
  return unboundIn(start, { node: stage.to, port: exitOf(stage, way) }, isLost).length === 0;
}

/** Adds the switches and single links whose loss turns a stage to where its tables do not follow. Trees are built once each. */
export function createDetours<Key>(keys: ElementKeys<Key>): (found: Found<Key>, stage: Stage, way: Way) => void {
  const trees = new Map<ForwardingSegment, Map<Switch | Link, Tree>>();
  const grown = (forwarding: ForwardingSegment, lost: Switch | Link): Tree => {
    let known = trees.get(forwarding);
    if (known === undefined) trees.set(forwarding, (known = new Map<Switch | Link, Tree>()));
    let tree = known.get(lost);
    if (tree === undefined) known.set(lost, (tree = grow(forwarding, lost)));
    return tree;
  };
  // A tree may turn for what is on nobody's way: for its root, or a link that another VLAN uses.
  const turning = new Map<ForwardingSegment, readonly (Switch | Link)[]>();
  const turnFor = (forwarding: ForwardingSegment): readonly (Switch | Link)[] =>
    kept(turning, forwarding, () => {
      const things = new Set(forwarding.parts.flatMap((part) => part.turning()));
      return [...things].filter((lost) => takesOthers(grown(forwarding, lost), forwarding.tree));
    });
  return (found, stage, way) => {
    const { forwarding, from, to } = stage;
    if (planeOf(forwarding, way.leg.group).byHand === undefined) return;
    const { nodes } = forwarding.segment;
    const tried = new Set<Switch | Link>(turnFor(forwarding));
    for (const { edge, to: node } of forwarding.tree.path(from, to) ?? []) {
      const [link] = carriersOf(forwarding, edge);
      const one = nodes[node];
      if (link !== undefined) tried.add(link);
      if (one !== undefined) tried.add(one);
    }
    for (const lost of tried) {
      if (lost === nodes[from] || lost === nodes[to]) continue;
      const isBound = isBoundAlong(
        (ground) => grown(ground, lost),
        stage,
        way,
        (one) => one === lost,
      );
      if (!isBound) found.add(keyOfThing(keys, lost));
    }
  };
}

function grow({ segment, parts, igmp, mld }: ForwardingSegment, lost: Switch | Link): Tree {
  return treeWithout(
    segment,
    parts,
    goneOf(lost),
    [...igmp.sinks, ...mld.sinks].map((sink) => sink.node),
  );
}

function entryOf(stage: Stage, { leg, from, stages }: Way): Interface | undefined {
  const before = stages[stages.indexOf(stage) - 1];
  return before?.router === undefined ? from : portOfRouter(stage.forwarding, leg.group, before.router);
}

function exitOf({ forwarding, router }: Stage, { leg, to }: Way): Interface | undefined {
  return router === undefined ? to : portOfRouter(forwarding, leg.group, router);
}

function portOfRouter(
  forwarding: ForwardingSegment,
  group: Way['leg']['group'],
  router: object,
): Interface | undefined {
  return planeOf(forwarding, group).routers.find(({ on }) => on === router)?.port;
}
