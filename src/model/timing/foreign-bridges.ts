/** Boundary clocks of other domains, seen as what would join clocks of one domain if PTP passed through them. */
import { UnionFind } from '../../collections/union-find.js';
import { groupBy } from '../../collections/group-by.js';
import type { NonEmpty } from '../../collections/non-empty.js';
import type { Clock, TimingGroup, TimingState } from './timing.js';

/** Parts of a domain that boundary clocks of others keep apart. */
export interface Bridge {
  /** Boundary clocks between the parts. */
  readonly at: NonEmpty<Clock>;
  /** Clocks of the domain on all the parts. */
  readonly clocks: readonly Clock[];
}

export interface Bridges {
  /** The path that a path would be part of. */
  readonly joined: (path: number) => number;
  /** The bridge that a path leads to. */
  readonly over: (path: number) => Bridge | undefined;
  readonly all: readonly Bridge[];
}

/** Undefined where nothing stands between the parts of the domain. */
export function bridgesBetween({ domain, islands }: TimingGroup, { clocks }: TimingState): Bridges | undefined {
  const foreign = clocks.filter((one) => one.relays && one.domain !== domain && one.ports.length > 1);
  // What the domain's own clocks join counts as one place.
  const places = new UnionFind<number>();
  for (const island of islands) joinPaths(places, island.clocks.flatMap(pathsOf));
  const inhabited = new Set(islands.flatMap((one) => one.clocks.flatMap(pathsOf)).map((path) => places.find(path)));
  const between = withoutDeadEnds(foreign, (path) => places.find(path), inhabited);
  if (between.length === 0) return undefined;
  const joined = new UnionFind<number>();
  for (const clock of between) joinPaths(joined, pathsOf(clock));
  for (const clock of between) joinPaths(places, pathsOf(clock));
  const rootOf = (clock: Clock): number | undefined => clock.ports.map(({ path }) => places.find(path))[0];
  const inhabitants = groupBy(
    islands.flatMap((one) => one.clocks),
    rootOf,
  );
  const bridges = new Map(
    [...groupBy(between, rootOf)].map(([root, at]): readonly [number, Bridge] => [
      root,
      { at, clocks: inhabitants.get(root) ?? [] },
    ]),
  );
  return {
    joined: (path) => joined.find(path),
    over: (path) => bridges.get(places.find(path)),
    all: [...bridges.values()],
  };
}

function pathsOf({ ports }: Clock): readonly number[] {
  return ports.map(({ path }) => path);
}

function joinPaths(union: UnionFind<number>, paths: readonly number[]): void {
  const [first, ...others] = paths;
  if (first === undefined) return;
  union.add(first);
  for (const other of others) union.union(first, other);
}

/** Takes away, for as long as there is one, a boundary clock that leads from one place only. */
function withoutDeadEnds(
  foreign: readonly Clock[],
  placeOf: (path: number) => number,
  inhabited: ReadonlySet<number>,
): readonly Clock[] {
  const touched = new Map(foreign.map((one) => [one, new Set(one.ports.map(({ path }) => placeOf(path)))]));
  const count = new Map<number, number>();
  for (const places of touched.values()) for (const place of places) count.set(place, (count.get(place) ?? 0) + 1);
  const isAlive = (place: number): boolean => inhabited.has(place) || (count.get(place) ?? 0) > 1;
  const left = new Set(foreign);
  for (let gone = true; gone;) {
    gone = false;
    for (const one of left) {
      const places = touched.get(one) ?? new Set<number>();
      if ([...places].filter(isAlive).length > 1) continue;
      left.delete(one);
      gone = true;
      for (const place of places) count.set(place, (count.get(place) ?? 0) - 1);
    }
  }
  return [...left];
}
