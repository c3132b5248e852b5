import type { NonEmpty } from './non-empty.js';

/** Items under their key, both in order of first appearance; items without a key are left out. */
export function groupBy<T, K>(items: Iterable<T>, key: (item: T) => K | undefined): ReadonlyMap<K, NonEmpty<T>> {
  const groups = new Map<K, [T, ...T[]]>();
  for (const item of items) {
    const at = key(item);
    if (at !== undefined) append(groups, at, item);
  }
  return groups;
}

/** Lists by key, however exactly they are typed. */
interface Lists<K, T> {
  get(key: K): T[] | undefined;
  set(key: K, list: [T, ...T[]]): unknown;
}

/** Adds an item to the list under its key. */
export function append<K, T>(lists: Lists<K, T>, key: K, item: T): void {
  const list = lists.get(key);
  if (list === undefined) lists.set(key, [item]);
  else list.push(item);
}

/** Adds an item to the set under its key. */
export function addTo<K, T>(sets: Map<K, Set<T>>, key: K, item: T): void {
  const set = sets.get(key);
  if (set === undefined) sets.set(key, new Set([item]));
  else set.add(item);
}
