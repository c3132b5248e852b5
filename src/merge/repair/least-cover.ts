/**
 * The least set of boxes that holds, for every clash, all boxes of its left or all of its right side. Each clash is a
 * complete bipartite piece, so this is a least vertex cover of a bipartite graph, which is as large as its largest
 * matching (Kőnig 1931); the matching is a largest flow from left boxes through clashes to right boxes, found in phases
 * of shortest augmenting ways (Hopcroft and Karp 1973).
 */
export interface Sides<T> {
  readonly left: readonly T[];
  readonly right: readonly T[];
}

export function leastCover<T>(clashes: readonly Sides<T>[]): ReadonlySet<T> {
  const graph = build(clashes);
  while (layer(graph)) augment(graph);
  // Kőnig: what the last search reached decides: left boxes it did not reach, right boxes it did.
  const cover = new Set<T>();
  graph.lefts.forEach((box, index) => {
    if (graph.leftLevel[index] === FAR) cover.add(box);
  });
  graph.rights.forEach((box, index) => {
    if (graph.rightLevel[index] !== FAR) cover.add(box);
  });
  return cover;
}

const FAR = -1;

interface Graph<T> {
  readonly lefts: readonly T[];
  readonly rights: readonly T[];
  /** Clashes of each left box, right boxes of each clash. */
  readonly clashesOf: readonly (readonly number[])[];
  readonly rightsOf: readonly (readonly number[])[];
  /** The clash each box is matched through, and with whom. */
  readonly leftMatch: Int32Array;
  readonly rightMatch: Int32Array;
  readonly leftLevel: Int32Array;
  readonly rightLevel: Int32Array;
  /** A clash is gone through from the level that reached it first; from later ones it leads nowhere new. */
  readonly clashLevel: Int32Array;
  /** Where each left box goes on in its list in this phase. */
  readonly nextClash: Int32Array;
  readonly nextRight: Int32Array;
}

function build<T>(clashes: readonly Sides<T>[]): Graph<T> {
  const left = numbered(clashes.map((one) => one.left));
  const right = numbered(clashes.map((one) => one.right));
  const clashesOf: number[][] = left.things.map(() => []);
  left.lists.forEach((list, clash) => {
    for (const box of list) clashesOf[box]?.push(clash);
  });
  return {
    lefts: left.things,
    rights: right.things,
    clashesOf,
    rightsOf: right.lists,
    leftMatch: new Int32Array(left.things.length).fill(FAR),
    rightMatch: new Int32Array(right.things.length).fill(FAR),
    leftLevel: new Int32Array(left.things.length),
    rightLevel: new Int32Array(right.things.length),
    clashLevel: new Int32Array(clashes.length),
    nextClash: new Int32Array(left.things.length),
    nextRight: new Int32Array(clashes.length),
  };
}

function numbered<T>(lists: readonly (readonly T[])[]): {
  readonly things: readonly T[];
  readonly lists: readonly (readonly number[])[];
} {
  const numbers = new Map<T, number>();
  const things: T[] = [];
  return {
    lists: lists.map((list) =>
      list.map((thing) => {
        let number = numbers.get(thing);
        if (number === undefined) {
          numbers.set(thing, (number = things.length));
          things.push(thing);
        }
        return number;
      }),
    ),
    things,
  };
}

/** Levels from the unmatched left boxes; true when an unmatched right box is reached. */
function layer<T>(graph: Graph<T>): boolean {
  const { leftLevel, rightLevel, clashLevel, leftMatch, rightMatch } = graph;
  leftLevel.fill(FAR);
  rightLevel.fill(FAR);
  clashLevel.fill(FAR);
  graph.nextClash.fill(0);
  graph.nextRight.fill(0);
  const queue: number[] = [];
  leftMatch.forEach((match, box) => {
    if (match !== FAR) return;
    leftLevel[box] = 0;
    queue.push(box);
  });
  let found = false;
  for (const box of queue) {
    const level = leftLevel[box] ?? 0;
    for (const clash of graph.clashesOf[box] ?? []) {
      if (clashLevel[clash] !== FAR) continue;
      clashLevel[clash] = level;
      for (const other of graph.rightsOf[clash] ?? []) {
        if (rightLevel[other] !== FAR) continue;
        rightLevel[other] = level + 1;
        const mate = rightMatch[other] ?? FAR;
        if (mate === FAR) found = true;
        else if (leftLevel[mate] === FAR) {
          leftLevel[mate] = level + 2;
          queue.push(mate);
        }
      }
    }
  }
  return found;
}

/** Matches along shortest ways; each entry of each list is looked at once in a phase. */
function augment<T>(graph: Graph<T>): void {
  graph.leftMatch.forEach((match, box) => {
    if (match === FAR) extend(graph, box);
  });
}

/** A walk with a stack of its own: ways may be as long as there are boxes. */
function extend<T>(graph: Graph<T>, start: number): void {
  const way: { readonly box: number; readonly right: number }[] = [];
  let box = start;
  for (;;) {
    const right = step(graph, box);
    if (right === undefined) {
      const back = way.pop();
      if (back === undefined) return;
      box = back.box;
      continue;
    }
    way.push({ box, right });
    const mate = graph.rightMatch[right] ?? FAR;
    if (mate === FAR) break;
    box = mate;
  }
  for (const one of way.reverse()) {
    graph.leftMatch[one.box] = one.right;
    graph.rightMatch[one.right] = one.box;
    graph.rightLevel[one.right] = FAR;
  }
}

/** The next right box on a shortest way from a left one; each is given out once in a phase. */
function step<T>(graph: Graph<T>, box: number): number | undefined {
  const { rightsOf, rightLevel, nextClash, nextRight } = graph;
  const clashes = graph.clashesOf[box] ?? [];
  const level = graph.leftLevel[box] ?? 0;
  for (let at = nextClash[box] ?? 0; at < clashes.length; nextClash[box] = ++at) {
    const clash = clashes[at] ?? 0;
    if (graph.clashLevel[clash] !== level) continue;
    const rights = rightsOf[clash] ?? [];
    for (let next = nextRight[clash] ?? 0; next < rights.length; next++) {
      nextRight[clash] = next + 1;
      const right = rights[next] ?? 0;
      if (rightLevel[right] !== level + 1) continue;
      rightLevel[right] = FAR;
      return right;
    }
  }
  return undefined;
}
