/** The way frames take through a segment: all its links, or what the spanning tree leaves of them. */
import type { Link } from '../../plan/types.js';
import type { Edge, Segment } from './segment.js';
import { across } from './segment.js';

export interface Step {
  readonly edge: Edge;
  /** Node the frame leaves. */
  readonly from: number;
  readonly to: number;
}

export interface Tree {
  /** Steps from one node to another; undefined when no path joins them. */
  readonly path: (from: number, to: number) => readonly Step[] | undefined;
  /** Nodes of each component, roots first, every node after its parent. */
  readonly order: readonly number[];
  readonly parent: Int32Array;
  readonly parentEdge: readonly (Edge | undefined)[];
  /** First node of each node's component. */
  readonly component: Int32Array;
}

/**
 * Breadth first from the roots given, then from whatever is left. Where the edges taken away leave no loop, the roots change
 * nothing about any way; where switches are stated to run no tree, it is a way through a network that does not work at all.
 */
export function buildTree(
  segment: Segment,
  roots: readonly number[],
  removed?: { readonly nodes?: ReadonlySet<number>; readonly edges?: ReadonlySet<Edge> },
): Tree {
  const count = segment.nodes.length;
  const parent = new Int32Array(count).fill(-1);
  const depth = new Int32Array(count);
  const component = new Int32Array(count).fill(-1);
  const parentEdge = new Array<Edge | undefined>(count).fill(undefined);
  const order: number[] = [];
  const start = (root: number): void => {
    if (component[root] !== -1 || removed?.nodes?.has(root) === true) return;
    component[root] = root;
    let next = order.length;
    order.push(root);
    while (next < order.length) {
      const node = order[next++] ?? 0;
      for (const edge of segment.edgesAt[node] ?? []) {
        if (removed?.edges?.has(edge) === true) continue;
        const other = across(edge, node);
        if (component[other] !== -1 || removed?.nodes?.has(other) === true) continue;
        component[other] = root;
        parent[other] = node;
        parentEdge[other] = edge;
        depth[other] = (depth[node] ?? 0) + 1;
        order.push(other);
      }
    }
  };
  for (const root of roots) start(root);
  for (let node = 0; node < count; node++) start(node);

  const up = (node: number): Step | undefined => {
    const edge = parentEdge[node];
    return edge === undefined ? undefined : { edge, from: node, to: parent[node] ?? -1 };
  };
  const path = (from: number, to: number): readonly Step[] | undefined => {
    if (component[from] === -1 || component[from] !== component[to]) return undefined;
    const head: Step[] = [];
    const tail: Step[] = [];
    let a = from;
    let b = to;
    while (a !== b) {
      const first = (depth[a] ?? 0) >= (depth[b] ?? 0);
      const step = up(first ? a : b);
      if (step === undefined) return undefined;
      if (first) head.push(step);
      else tail.push({ edge: step.edge, from: step.to, to: step.from });
      if (first) a = step.to;
      else b = step.to;
    }
    return [...head, ...tail.reverse()];
  };
  return { path, order, parent, parentEdge, component };
}

/** Edges of which no link forwards. */
export function blockedEdges(segment: Segment, forwards: (link: Link) => boolean): ReadonlySet<Edge> {
  return new Set(segment.edges.filter(({ links }) => !links.some(forwards)));
}

/** Whether a tree takes edges that another does not. */
export function takesOthers(tree: Tree, than: Tree): boolean {
  const known = new Set(than.parentEdge);
  return tree.parentEdge.some((edge) => !known.has(edge));
}

/** 1 for a node and all that hang on it in the tree. */
export function nodesBelow(tree: Tree, top: number): Uint8Array {
  const below = new Uint8Array(tree.parent.length);
  for (const node of tree.order) if (node === top || below[tree.parent[node] ?? -1] === 1) below[node] = 1;
  return below;
}
