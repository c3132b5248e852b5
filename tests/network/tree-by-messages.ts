/** The spanning tree the slow way: bridges that tell each other what they believe. Shares no code with the model. */
import type { TreeBridge, TreeLink } from '../../src/model/network/spanning-tree.js';

/** Root, cost, bridge, port, in one text that sorts like the vector of §17.6. */
type Vector = readonly [root: string, cost: number, bridge: string, port: string];

/** Every bridge says on every port what it believes, until nobody believes anything new. Roles by link; undefined: gone. */
export function byMessages(
  bridges: readonly TreeBridge[],
  links: readonly TreeLink[],
  without: { readonly bridges: ReadonlySet<number>; readonly links: ReadonlySet<number> },
): readonly (readonly string[] | undefined)[] {
  const padded = (value: number): string => String(value).padStart(8, '0');
  const id = (at: number): string => `${padded(bridges[at]?.priority ?? 0)}.${padded(bridges[at]?.mac ?? 0)}`;
  const gone = (index: number): boolean =>
    without.links.has(index) || links[index]?.ends.some(({ bridge }) => without.bridges.has(bridge)) === true;
  const ends = links.flatMap((link, index) =>
    gone(index)
      ? []
      : ([0, 1] as const).map((side) => ({
          index,
          side,
          at: link.ends[side].bridge,
          cost: link.ends[side].cost,
          port: `${padded(link.ends[side].priority)}.${padded(link.ends[side].number)}`,
        })),
  );
  type End = (typeof ends)[number];
  const runs = (end: End): boolean => bridges[end.at]?.runs === true;
  /** Ends that hear what one sends: over the link, and on through boxes that pass it. */
  const hearers = (from: End): readonly End[] => {
    const seen = new Set<End>([from]);
    const heard: End[] = [];
    const queue = [from];
    for (const end of queue) {
      const far = ends.filter((one) => one.index === end.index && one !== end);
      for (const one of far) {
        if (seen.has(one)) continue;
        seen.add(one);
        if (runs(one)) heard.push(one);
        else if (bridges[one.at]?.passes === true)
          for (const other of ends)
            if (other.at === one.at && !seen.has(other)) {
              seen.add(other);
              queue.push(other);
            }
      }
    }
    return heard;
  };
  const audience = new Map(ends.filter(runs).map((end) => [end, hearers(end)]));
  const before = (a: Vector, b: Vector): boolean => {
    for (const index of [0, 1, 2, 3] as const) {
      const [x, y] = [a[index], b[index]];
      if (x !== y) return x < y;
    }
    return false;
  };
  let belief = bridges.map((_, at): { root: string; cost: number; by: End | undefined } => ({
    root: id(at),
    cost: 0,
    by: undefined,
  }));
  const messages = (): ReadonlyMap<End, Vector> => {
    const best = new Map<End, Vector>();
    for (const [end, heard] of audience) {
      const { root, cost } = belief[end.at] ?? { root: '', cost: 0 };
      const said: Vector = [root, cost, id(end.at), end.port];
      for (const one of heard) {
        const known = best.get(one);
        if (known === undefined || before(said, known)) best.set(one, said);
      }
    }
    return best;
  };
  for (let round = 0; round < 4 * bridges.length + 4; round++) {
    const heard = messages();
    belief = bridges.map((_, at) => {
      let best: { vector: Vector; end: End } | undefined;
      for (const end of ends) {
        const said = end.at === at ? heard.get(end) : undefined;
        if (said === undefined || said[2] === id(at)) continue;
        const vector: Vector = [said[0], said[1] + end.cost, said[2], said[3]];
        if (
          best === undefined ||
          before(vector, best.vector) ||
          (!before(best.vector, vector) && end.port < best.end.port)
        )
          best = { vector, end };
      }
      return best === undefined || best.vector[0] >= id(at)
        ? { root: id(at), cost: 0, by: undefined }
        : { root: best.vector[0], cost: best.vector[1], by: best.end };
    });
  }
  const heard = messages();
  return links.map((_, index) => {
    if (gone(index)) return undefined;
    return ([0, 1] as const).map((side) => {
      const end = ends.find((one) => one.index === index && one.side === side);
      if (end === undefined || !runs(end)) return 'none';
      const { root, cost, by } = belief[end.at] ?? { root: '', cost: 0, by: undefined };
      const own: Vector = [root, cost, id(end.at), end.port];
      const best = heard.get(end);
      if (by === end) return 'root';
      if (best === undefined || before(own, best)) return 'designated';
      return best[2] === id(end.at) ? 'backup' : 'alternate';
    });
  });
}
