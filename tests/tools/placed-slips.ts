/**
 * Slips of whoever writes a plan as data: which entries of a tree say something else. So two of them, each made up alone,
 * can be made in one plan together, in either order.
 */

export type TreePath = readonly (string | number)[];

export interface PlacedSlip {
  readonly what: string;
  /** Entries and what they say from now on; undefined: nothing any more. */
  readonly sets: readonly { readonly path: TreePath; readonly value: unknown }[];
}

interface Leaf {
  readonly path: TreePath;
  readonly value: unknown;
}

/** Entries by what they are, `devices.interfaces.address`: every sort as likely as any other, however many there are. */
export function createSlips(tree: unknown): (random: (below: number) => number) => PlacedSlip | undefined {
  const leaves: Leaf[] = [];
  collect(tree, [], leaves);
  const sorts = new Map<string, Leaf[]>();
  for (const leaf of leaves) {
    const sort = leaf.path.filter((key) => typeof key === 'string').join('.');
    const list = sorts.get(sort);
    if (list === undefined) sorts.set(sort, [leaf]);
    else list.push(leaf);
  }
  const names = [...sorts.keys()].filter((name) => !/(^|\.)(rigproof|rig|about)$/.test(name));
  return (random) => {
    const sort = names[random(names.length)];
    const alike = sort === undefined ? [] : (sorts.get(sort) ?? []);
    const leaf = alike[random(alike.length)];
    const other = alike[random(alike.length)];
    if (sort === undefined || leaf === undefined || other === undefined) return undefined;
    const sets = setsOf(leaf, other, random);
    if (sets.every(({ path, value }) => value === valueAt(tree, path))) return undefined;
    return {
      what: `${sort} ${sets.map(({ value }) => (value === undefined ? 'left out' : JSON.stringify(value))).join(' and ')}`,
      sets,
    };
  };
}

/** One mistyped, copied from beside, swapped, or left out. */
function setsOf(leaf: Leaf, other: Leaf, random: (below: number) => number): PlacedSlip['sets'] {
  switch (random(4)) {
    case 0:
      return [{ path: leaf.path, value: other.value }];
    case 1:
      return [
        { path: leaf.path, value: other.value },
        { path: other.path, value: leaf.value },
      ];
    case 2:
      return [{ path: leaf.path, value: undefined }];
    default:
      return [{ path: leaf.path, value: mistyped(leaf.value, random) }];
  }
}

/** A copy of a tree with slips made in it. Entries of a list that say nothing any more are taken out last. */
export function withSlips(tree: unknown, slips: readonly PlacedSlip[]): unknown {
  const copy = structuredClone(tree);
  const sets = slips.flatMap((one) => one.sets);
  const out = sets.filter(({ value }) => value === undefined);
  for (const { path, value } of sets) if (value !== undefined) holderAt(copy, path)[lastOf(path)] = value;
  for (const { path } of [...out].sort((a, b) => Number(lastOf(b.path)) - Number(lastOf(a.path)) || 0)) {
    const holder = holderAt(copy, path);
    if (Array.isArray(holder)) holder.splice(Number(lastOf(path)), 1);
    // eslint-disable-next-line @typescript-eslint/no-dynamic-delete
    else delete holder[lastOf(path)];
  }
  return copy;
}

/** Whether two slips touch one entry, or entries of one list or record. */
export function touchAlike(a: PlacedSlip, b: PlacedSlip): boolean {
  const parent = (path: TreePath): string => JSON.stringify(path.slice(0, -1));
  return a.sets.some((one) => b.sets.some((other) => parent(one.path) === parent(other.path)));
}

function collect(value: unknown, path: TreePath, leaves: Leaf[]): void {
  if (typeof value !== 'object' || value === null) leaves.push({ path, value });
  else if (Array.isArray(value))
    value.forEach((one: unknown, index) => {
      collect(one, [...path, index], leaves);
    });
  else for (const [key, inner] of Object.entries(value)) collect(inner, [...path, key], leaves);
}

function holderAt(tree: unknown, path: TreePath): Record<string | number, unknown> {
  const holder = valueAt(tree, path.slice(0, -1));
  if (typeof holder !== 'object' || holder === null) throw new Error(`nothing at ${path.join('.')}`);
  return holder as Record<string | number, unknown>;
}

function valueAt(tree: unknown, path: TreePath): unknown {
  return path.reduce<unknown>((at, key) => (at as Record<string | number, unknown>)[key], tree);
}

function lastOf(path: TreePath): string | number {
  return path.at(-1) ?? '';
}

/** A digit that is another one; a word that lacks its last letter. */
function mistyped(value: unknown, random: (below: number) => number): unknown {
  if (typeof value === 'boolean') return !value;
  if (typeof value === 'number') return Number(anotherDigit(String(value), random));
  return typeof value === 'string' ? anotherDigit(value, random) : value;
}

function anotherDigit(text: string, random: (below: number) => number): string {
  const places = [...text.matchAll(/\d/g)].map(({ index }) => index);
  const at = places[random(Math.max(1, places.length))];
  return at === undefined ? text.slice(0, -1) : `${text.slice(0, at)}${random(9) + 1}${text.slice(at + 1)}`;
}
