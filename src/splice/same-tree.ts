/** Whether a tree is another one with its edits made. */
import type { Container } from '../source/document.js';
import type { Edit } from '../edits/entry.js';

/** The edits of each container, by key. */
export type EditsByContainer = ReadonlyMap<Container, ReadonlyMap<string | number, Edit>>;

/** An entry of the old tree, or the container itself, that the new tree does not repeat as meant. */
export interface Difference {
  readonly container: Container;
  readonly key?: string | number;
}

const NO_EDITS: EditsByContainer = new Map();

/** Where the new tree first says something else than the old one with the edits made; undefined where nowhere. */
export function firstDifference(before: object, now: unknown, edits: EditsByContainer): Difference | undefined {
  /** Pairs found equal: a part used through aliases is compared once. */
  const equal = new Map<object, unknown>();
  return differs(before, now);

  function differs(old: object, young: unknown): Difference | undefined {
    if (equal.has(old) && equal.get(old) === young) return undefined;
    if (typeof young !== 'object' || young === null || Array.isArray(old) !== Array.isArray(young))
      return { container: old };
    const own = edits.get(old);
    if (own === undefined) {
      const inner = differsInside(old, young);
      if (inner === undefined) equal.set(old, young);
      return inner;
    }
    const wanted = entriesMeant(old, own);
    if (Object.keys(young).length !== wanted.length) return { container: old };
    for (const { key, nowKey, value, edited } of wanted) {
      const there = Object.hasOwn(young, nowKey)
        ? (young as Readonly<Record<string | number, unknown>>)[nowKey]
        : undefined;
      if (edited || typeof value !== 'object' || value === null) {
        if (!sameValue(value, there)) return { container: old, key };
        continue;
      }
      const inner = differs(value, there);
      if (inner !== undefined) return inner;
    }
    equal.set(old, young);
    return undefined;
  }

  /** Of what keeps all its entries: most of any plan. */
  function differsInside(old: object, young: object): Difference | undefined {
    const keys = Object.keys(old);
    if (Object.keys(young).length !== keys.length) return { container: old };
    for (const name of keys) {
      const value = (old as Readonly<Record<string, unknown>>)[name];
      const there = Object.hasOwn(young, name) ? (young as Readonly<Record<string, unknown>>)[name] : undefined;
      if (typeof value !== 'object' || value === null) {
        if (!sameValue(value, there)) return { container: old, key: Array.isArray(old) ? Number(name) : name };
        continue;
      }
      const inner = differs(value, there);
      if (inner !== undefined) return inner;
    }
    return undefined;
  }
}

/** Whether two values say the same, whatever the order of their keys. */
export function sameValue(a: unknown, b: unknown): boolean {
  if (typeof a !== 'object' || a === null) return Object.is(a, b) || (a === 0 && b === 0);
  return firstDifference(a, b, NO_EDITS) === undefined;
}

interface Meant {
  readonly key: string | number;
  /** The key in the new tree: entries of a list move up where others are taken out. */
  readonly nowKey: string | number;
  readonly value: unknown;
  readonly edited: boolean;
}

function entriesMeant(old: object, own: ReadonlyMap<string | number, Edit>): readonly Meant[] {
  const found: Meant[] = [];
  const list = Array.isArray(old);
  const entries: readonly (readonly [string, unknown])[] = Object.entries(old);
  const seen = new Set<string | number>();
  for (const [name, value] of entries) {
    const key = list ? Number(name) : name;
    seen.add(key);
    const edit = own.get(key);
    if (edit !== undefined && edit.value === undefined) continue;
    const nowKey = list ? found.length : key;
    found.push({ key, nowKey, value: edit === undefined ? value : edit.value, edited: edit !== undefined });
  }
  const added = [...own.values()].filter(({ key, value }) => !seen.has(key) && value !== undefined);
  if (list) added.sort((a, b) => Number(a.key) - Number(b.key));
  for (const { key, value } of added) found.push({ key, nowKey: list ? found.length : key, value, edited: true });
  return found;
}
