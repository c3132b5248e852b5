/** Which rig moves in each clash, so that as few boxes as possible are touched. */
import type { Rig } from '../../plan/types.js';
import type { Box, Clash, Part } from './clashes.js';
import { leastCover } from './least-cover.js';

export interface Choice {
  /** What has to move. */
  readonly parts: readonly Part[];
  /** Boxes touched by it. */
  readonly touched: number;
  /** No choice touches fewer than this. Equal to `touched` where the choice is known to be the best. */
  readonly atLeast: number;
}

/** Up to so many ways to choose, all are tried. */
const MOST_TRIED = 20_000;

/**
 * With a rig to keep, whatever clashes with it moves. Between two rigs that may both move the fewest boxes are found
 * exactly (a least cover, by largest flow: Kőnig's theorem). Between three and more that is hard: all choices are tried
 * where they are few, else the best order of rigs is taken and a lower bound given. Of choices that touch equally many
 * boxes, one is taken that leaves `stays` alone as far as it can. `moving` goes in any case.
 */
export function fewestBoxes(
  clashes: readonly Clash[],
  keep: Rig | undefined,
  stays?: Rig,
  moving: readonly Part[] = [],
): Choice {
  const forced: Part[] = [...moving];
  const open: Clash[] = [];
  for (const clash of clashes) {
    const kept = clash.parts.some(({ rig }) => rig === keep);
    const movable = kept ? clash.parts.filter(({ rig }) => rig !== keep) : [];
    if (kept) forced.push(...movable);
    else open.push(clash);
  }
  const given = boxesOf(forced);
  const rigs = new Set(open.flatMap(({ parts }) => parts.map(({ rig }) => rig)));
  if (open.length === 0) return { parts: forced, touched: given.size, atLeast: given.size };
  const rest = rigs.size === 2 ? betweenTwo(open, given, stays) : amongMany(open, given, [...rigs]);
  const all = boxesOf([...forced, ...rest.parts]);
  return { parts: [...forced, ...rest.parts], touched: all.size, atLeast: given.size + rest.atLeast };
}

interface Rest {
  readonly parts: readonly Part[];
  /** Least number of boxes besides those given. */
  readonly atLeast: number;
}

function betweenTwo(open: readonly Clash[], given: ReadonlySet<Box>, stays: Rig | undefined): Rest {
  const [one, other] = open[0]?.parts ?? [];
  // Of all least covers the one found has the most boxes on the left.
  const moving = one?.rig === stays ? other?.rig : one?.rig;
  const pairs = open.flatMap(({ parts }) => {
    const left = parts.find(({ rig }) => rig === moving);
    const right = parts.find(({ rig }) => rig !== moving);
    return left === undefined || right === undefined ? [] : [{ left, right }];
  });
  const fresh = ({ boxes }: Part): readonly Box[] => [...boxes].filter((box) => !given.has(box));
  const cover = leastCover(pairs.map(({ left, right }) => ({ left: fresh(left), right: fresh(right) })));
  const moves = (part: Part): boolean => [...part.boxes].every((box) => given.has(box) || cover.has(box));
  return { parts: pairs.map(({ left, right }) => (moves(left) ? left : right)), atLeast: cover.size };
}

function amongMany(open: readonly Clash[], given: ReadonlySet<Box>, rigs: readonly Rig[]): Rest {
  const ways = open.reduce((product, { parts }) => Math.min(product * parts.length, MOST_TRIED + 1), 1);
  if (ways <= MOST_TRIED) {
    const best = tryAll(open, given);
    return { parts: best, atLeast: added(best, given) };
  }
  let best: readonly Part[] | undefined;
  for (const order of orders(rigs)) {
    const parts = open.flatMap(({ parts: all }) => {
      const stays = order.find((rig) => all.some((part) => part.rig === rig));
      return all.filter(({ rig }) => rig !== stays);
    });
    if (best === undefined || added(parts, given) < added(best, given)) best = parts;
  }
  return { parts: best ?? [], atLeast: apart(open, given) };
}

function tryAll(open: readonly Clash[], given: ReadonlySet<Box>): readonly Part[] {
  let best: readonly Part[] | undefined;
  const walk = (index: number, chosen: readonly Part[]): void => {
    if (best !== undefined && added(chosen, given) >= added(best, given)) return;
    const clash = open[index];
    if (clash === undefined) {
      best = chosen;
      return;
    }
    for (const stays of clash.parts) walk(index + 1, [...chosen, ...clash.parts.filter((part) => part !== stays)]);
  };
  walk(0, []);
  return best ?? [];
}

/** Few rigs in every order; many with each of them first. */
function orders(rigs: readonly Rig[]): readonly (readonly Rig[])[] {
  if (rigs.length > 5) return rigs.map((first) => [first, ...rigs.filter((rig) => rig !== first)]);
  return rigs.length < 2
    ? [rigs]
    : rigs.flatMap((first) => orders(rigs.filter((rig) => rig !== first)).map((rest) => [first, ...rest]));
}

/** Clashes that share no box each need boxes of their own. */
function apart(open: readonly Clash[], given: ReadonlySet<Box>): number {
  const seen = new Set<Box>(given);
  let least = 0;
  for (const { parts } of open) {
    const boxes = parts.map((part) => [...part.boxes]);
    if (boxes.flat().some((box) => seen.has(box))) continue;
    for (const box of boxes.flat()) seen.add(box);
    const sizes = boxes.map((list) => list.length);
    least += sizes.reduce((sum, size) => sum + size, 0) - Math.max(...sizes);
  }
  return least;
}

function boxesOf(parts: readonly Part[]): ReadonlySet<Box> {
  return new Set(parts.flatMap(({ boxes }) => [...boxes]));
}

function added(parts: readonly Part[], given: ReadonlySet<Box>): number {
  let count = 0;
  for (const box of boxesOf(parts)) if (!given.has(box)) count++;
  return count;
}
