/** What inputs that switch between streams put on one place in the worst case: on a direction of a link, a port, a table. */
import { append } from '../../collections/group-by.js';
import { UnionFind } from '../../collections/union-find.js';
import type { Receiver, Selection } from '../../plan/types.js';
import { heaviest, type Wanted } from './heaviest.js';

/** Who brings each item to a place by what he chooses. */
export interface Place<Item> {
  readonly brought: Map<Item, (readonly Receiver[])[]>;
  /** Where more is counted as brought than may be. */
  loose: boolean;
}

export interface WorstChoice<Item> {
  readonly total: number;
  /** The same where inputs that do not say so leave the last stream before they join the next. */
  readonly leftFirst: number;
  /** What is chosen, the heaviest first; empty where only a bound is known. */
  readonly items: readonly Item[];
  /** False: no choice puts more here, and perhaps none so much. */
  readonly exact: boolean;
}

/** With more pairs of item and taker than this the worst case is only bounded. */
export const MOST_PAIRS = 50_000;

export function newPlace<Item>(): Place<Item> {
  return { brought: new Map(), loose: false };
}

/** Undefined where nothing that weighs anything can be brought. */
export function worstChoice<Item>(
  place: Place<Item>,
  weightOf: (item: Item) => number,
  mostPairs = MOST_PAIRS,
): WorstChoice<Item> | undefined {
  const byChoice = new Map<Receiver, Item[]>();
  let pairs = 0;
  for (const [item, lists] of place.brought) {
    if (weightOf(item) <= 0) continue;
    for (const choice of lists.length === 1 ? (lists[0] ?? []) : new Set(lists.flat())) {
      append(byChoice, choice, item);
      pairs++;
    }
  }
  if (pairs === 0) return undefined;
  if (pairs > mostPairs) return bound(byChoice, weightOf);
  const bundles = bundlesOf(byChoice, weightOf);
  const selections = [...new Set(bundles.flatMap(({ takers }) => [...takers]))];
  const index = new Map(selections.map((one, at) => [one, at]));
  const wanted = bundles.map(({ weight, takers }): Wanted => ({
    weight,
    takers: [...takers].map((one) => index.get(one) ?? 0),
  }));
  const worst = heaviest(
    wanted,
    selections.map((one) => roomOf(one, true)),
  );
  const sum = (chosen: readonly number[]): number => chosen.reduce((total, at) => total + (wanted[at]?.weight ?? 0), 0);
  const total = sum(worst);
  const someUnsaid = selections.some(({ joinsFirst }) => joinsFirst === undefined);
  return {
    total,
    leftFirst: someUnsaid
      ? sum(
          heaviest(
            wanted,
            selections.map((one) => roomOf(one, false)),
          ),
        )
      : total,
    items: worst.flatMap((at) => bundles[at]?.items ?? []),
    exact: !place.loose && bundles.every((one) => one.exact),
  };
}

/** How many streams an input has at once; one more while it joins the next first. */
function roomOf({ atOnce, joinsFirst, choices }: Selection, unsaid: boolean): number {
  return Math.min(choices.length, atOnce + ((joinsFirst ?? unsaid) ? 1 : 0));
}

/** Items that come together. */
interface Bundle<Item> {
  readonly items: readonly Item[];
  readonly weight: number;
  readonly takers: Set<Selection>;
  /** Whether each choice that brings one of them brings all. */
  exact: boolean;
}

function bundlesOf<Item>(
  byChoice: ReadonlyMap<Receiver, readonly Item[]>,
  weightOf: (item: Item) => number,
): readonly Bundle<Item>[] {
  const sets = new UnionFind<Item>();
  for (const [first, ...others] of byChoice.values()) {
    if (first === undefined) continue;
    sets.add(first);
    for (const other of others) sets.union(first, other);
  }
  const byRoot = new Map<Item, Item[]>();
  for (const item of sets.nodes()) append(byRoot, sets.find(item), item);
  const bundles = new Map<Item, Bundle<Item>>();
  for (const [root, items] of byRoot)
    bundles.set(root, {
      items,
      weight: items.reduce((sum, item) => sum + weightOf(item), 0),
      takers: new Set(),
      exact: true,
    });
  for (const [{ selection }, items] of byChoice) {
    const [first] = items;
    const bundle = first === undefined ? undefined : bundles.get(sets.find(first));
    if (bundle === undefined || selection === undefined) continue;
    bundle.takers.add(selection);
    if (items.length < bundle.items.length) bundle.exact = false;
  }
  return [...bundles.values()];
}

/** Never less than the worst choice: each input's heaviest choices, whether others bring them or not; at most everything. */
function bound<Item>(
  byChoice: ReadonlyMap<Receiver, readonly Item[]>,
  weightOf: (item: Item) => number,
): WorstChoice<Item> {
  const weights = new Map<Selection, number[]>();
  const all = new Set<Item>();
  for (const [{ selection }, items] of byChoice) {
    if (selection === undefined) continue;
    append(
      weights,
      selection,
      items.reduce((sum, item) => sum + weightOf(item), 0),
    );
    for (const item of items) all.add(item);
  }
  const most = [...all].reduce((sum, item) => sum + weightOf(item), 0);
  for (const list of weights.values()) list.sort((a, b) => b - a);
  const boundOf = (unsaid: boolean): number =>
    Math.min(
      most,
      [...weights].reduce(
        (sum, [selection, list]) =>
          sum + list.slice(0, roomOf(selection, unsaid)).reduce((total, weight) => total + weight, 0),
        0,
      ),
    );
  return { total: boundOf(true), leftFirst: boundOf(false), items: [], exact: false };
}
