/**
 * What each single loss leaves of a segment whose VLANs are not on all links of a loop. The spanning tree is blind to VLANs
 * (IEEE 802.1Q-2022 §13), so the loss of a link, or of a switch that the segment does not even use, may turn it to where
 * the segment is cut. Each loss that can turn it is tried, once a segment, when somebody asks.
 */
import type { Link, Switch } from '../../plan/types.js';
import type { Gone, LoopedPart } from './loops.js';
import type { Segment } from './segment.js';
import { blockedEdges, buildTree, type Tree } from './tree.js';

export interface Losses {
  /** Single switches and links without which two switches lose each other; themselves not among them. */
  readonly between: (from: number, to: number) => readonly (Switch | Link)[];
  /** Whether two switches are joined once something is lost. */
  readonly joinedWithout: (lost: unknown, a: number, b: number) => boolean;
  /** Every loss that was tried, with the parts it leaves, by the first node of each. */
  readonly trials: () => readonly Trial[];
}

export interface Trial {
  readonly lost: Switch | Link;
  /** By node; -1 for the switch that is lost. */
  readonly component: Int32Array;
}

export function createLosses(segment: Segment, parts: readonly LoopedPart[]): Losses {
  let tried: readonly Trial[] | undefined;
  let whole: Tree | undefined;
  const trials = (): readonly Trial[] => (tried ??= tryAll(segment, parts));
  const byThing = new Map<unknown, Trial>();
  const known = new Map<number, readonly (Switch | Link)[]>();
  return {
    trials,
    between: (from, to) => {
      const key = Math.min(from, to) * segment.nodes.length + Math.max(from, to);
      let found = known.get(key);
      if (found === undefined) {
        const ends = [segment.nodes[from], segment.nodes[to]];
        found = trials().flatMap(({ lost, component }) =>
          component[from] !== component[to] && !ends.some((end) => end === lost) ? [lost] : [],
        );
        known.set(key, found);
      }
      return found;
    },
    joinedWithout: (lost, a, b) => {
      if (byThing.size === 0) for (const trial of trials()) byThing.set(trial.lost, trial);
      const component = byThing.get(lost)?.component ?? (whole ??= treeWithout(segment, parts, NOTHING_GONE)).component;
      return component[a] !== -1 && component[a] === component[b];
    },
  };
}

const NOTHING_GONE: Gone = { switches: new Set(), links: new Set() };

function tryAll(segment: Segment, parts: readonly LoopedPart[]): readonly Trial[] {
  const inParts = new Set<Switch | Link>(parts.flatMap(({ switches, bundles }) => [...switches, ...bundles.flat()]));
  const others = [...segment.nodes, ...segment.edges.flatMap(({ links }) => links)].filter((one) => !inParts.has(one));
  const things = [...parts.flatMap((part) => part.turning()), ...others];
  return things.map((lost): Trial => ({ lost, component: treeWithout(segment, parts, goneOf(lost)).component }));
}

/** One object a thing, so that trees without it are worked out once. */
export function goneOf(lost: Switch | Link): Gone {
  let gone = SINGLE.get(lost);
  if (gone === undefined) {
    gone =
      'ports' in lost
        ? { switches: new Set([lost]), links: new Set() }
        : { switches: new Set(), links: new Set([lost]) };
    SINGLE.set(lost, gone);
  }
  return gone;
}

const SINGLE = new WeakMap<object, Gone>();

/** The way frames take through a segment once something is out of order. */
export function treeWithout(
  segment: Segment,
  parts: readonly LoopedPart[],
  gone: Gone,
  roots: readonly number[] = [],
): Tree {
  const nodes = new Set([...gone.switches].flatMap((one) => segment.nodeOf.get(one) ?? []));
  const forwards = forwardsWithout(parts, gone);
  return buildTree(segment, roots, { nodes, edges: blockedEdges(segment, forwards) });
}

export function forwardsWithout(parts: readonly LoopedPart[], gone: Gone): (link: Link) => boolean {
  const layouts = parts.map((part) => part.without(gone));
  return (link) => !gone.links.has(link) && layouts.every((layout) => layout.forwards(link));
}
