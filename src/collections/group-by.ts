/** Items under their key, both in order of first appearance; items without a key are left out. */
export function groupBy<T, K>(items: Iterable<T>, key: (item: T) => K | undefined): ReadonlyMap<K, readonly T[]> {
  const groups = new Map<K, T[]>();
  for (const item of items) {
    const at = key(item);
    if (at === undefined) continue;
    const list = groups.get(at);
    if (list === undefined) groups.set(at, [item]);
    else list.push(item);
  }
  return groups;
}
