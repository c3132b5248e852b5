/**
 * Which switches and links stand alone between two switches of a segment, by its block-cut tree (Hopcroft and Tarjan,
 * "Efficient algorithms for graph manipulation", CACM 16(6), 1973): built once in linear time, asked once per stream.
 */
import type { Edge, Segment } from './segment.js';
import { across } from './segment.js';

export interface CutTree {
  /** A number for each part that paths join; -1 for what is gone. */
  readonly partOf: (node: number) => number;
  /** False when no path joins the two switches. */
  readonly joined: (from: number, to: number) => boolean;
  /** Visits the switches strictly between the two, and the edges, without which they lose each other. */
  readonly visitBetween: (
    from: number,
    to: number,
    visitor: { readonly node: (node: number) => void; readonly edge: (edge: Edge) => void },
  ) => void;
}

/** A vertex of the block-cut tree: a switch, or a block of switches that no single switch divides. */
interface Vertex {
  readonly node: number | undefined;
  /** The only edge of a block of two switches: a bridge. */
  readonly bridge: Edge | undefined;
  parent: number;
  depth: number;
}

/** `onBlock` is told the edges of each block. */
export function buildCutTree(
  segment: Pick<Segment, 'nodes' | 'edgesAt'>,
  onBlock?: (edges: readonly Edge[]) => void,
): CutTree {
  const count = segment.nodes.length;
  const vertices: Vertex[] = segment.nodes.map((_, node) => ({ node, bridge: undefined, parent: -1, depth: 0 }));
  const component = new Int32Array(count).fill(-1);
  const order = new Int32Array(count).fill(-1);
  const low = new Int32Array(count);
  let clock = 0;

  // Depth-first without recursion: a chain of five hundred switches must not overflow the stack.
  for (let root = 0; root < count; root++) {
    if (order[root] !== -1) continue;
    const trail: { readonly node: number; readonly via: Edge | undefined; next: number }[] = [
      { node: root, via: undefined, next: 0 },
    ];
    const open: Edge[] = [];
    order[root] = low[root] = clock++;
    component[root] = root;
    while (trail.length > 0) {
      const frame = trail[trail.length - 1];
      if (frame === undefined) break;
      const { node, via } = frame;
      const edge = segment.edgesAt[node]?.[frame.next++];
      if (edge !== undefined) {
        if (edge === via) continue;
        const other = across(edge, node);
        if (order[other] === -1) {
          open.push(edge);
          order[other] = low[other] = clock++;
          component[other] = root;
          trail.push({ node: other, via: edge, next: 0 });
        } else if ((order[other] ?? 0) < (order[node] ?? 0)) {
          open.push(edge);
          low[node] = Math.min(low[node] ?? 0, order[other] ?? 0);
        }
        continue;
      }
      trail.pop();
      const above = trail[trail.length - 1];
      if (above === undefined || via === undefined) continue;
      low[above.node] = Math.min(low[above.node] ?? 0, low[node] ?? 0);
      if ((low[node] ?? 0) < (order[above.node] ?? 0)) continue;
      // Everything opened since `via` is one block, hanging on `above`.
      const block: Edge[] = open.splice(open.lastIndexOf(via));
      onBlock?.(block);
      const index = vertices.length;
      vertices.push({ node: undefined, bridge: block.length === 1 ? via : undefined, parent: above.node, depth: 0 });
      for (const member of new Set(block.flatMap(({ a, b }) => [a, b]))) {
        const vertex = vertices[member];
        if (member !== above.node && vertex !== undefined) vertex.parent = index;
      }
    }
  }
  setDepths(vertices);

  const joined = (from: number, to: number): boolean => component[from] === component[to];
  return {
    partOf: (node) => component[node] ?? -1,
    joined,
    // Asked once a stream: nothing is made on the way.
    visitBetween: (from, to, visitor) => {
      if (!joined(from, to)) return;
      const visit = ({ node, bridge }: Vertex): void => {
        if (node !== undefined && node !== from && node !== to) visitor.node(node);
        if (bridge !== undefined) visitor.edge(bridge);
      };
      let x = vertices[from];
      let y = vertices[to];
      while (x !== undefined && y !== undefined && x !== y) {
        const deeper: Vertex = x.depth >= y.depth ? x : y;
        visit(deeper);
        if (deeper === x) x = vertices[x.parent];
        else y = vertices[y.parent];
      }
      if (x !== undefined) visit(x);
    },
  };
}

/** A block is always made after the switch it hangs on has a place, but a switch may be below a later block. */
function setDepths(vertices: readonly Vertex[]): void {
  const known = new Uint8Array(vertices.length);
  for (let start = 0; start < vertices.length; start++) {
    const chain: number[] = [];
    let at = start;
    while (at !== -1 && known[at] === 0) {
      chain.push(at);
      at = vertices[at]?.parent ?? -1;
    }
    let depth = at === -1 ? -1 : (vertices[at]?.depth ?? 0);
    for (const index of chain.reverse()) {
      const vertex = vertices[index];
      if (vertex === undefined) continue;
      vertex.depth = ++depth;
      known[index] = 1;
    }
  }
}
