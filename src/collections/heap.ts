/** A binary heap of values by their keys, the lowest first. */
export interface Heap<V> {
  readonly keys: number[];
  readonly values: V[];
}

export function push<V>({ keys, values }: Heap<V>, key: number, value: V): void {
  let at = keys.length;
  keys.push(key);
  values.push(value);
  while (at > 0) {
    const above = (at - 1) >> 1;
    if ((keys[above] ?? 0) <= key) break;
    keys[at] = keys[above] ?? 0;
    values[at] = values[above] as V;
    at = above;
  }
  keys[at] = key;
  values[at] = value;
}

/** Undefined from an empty heap. */
export function pop<V>({ keys, values }: Heap<V>): V | undefined {
  const found = values[0];
  const key = keys.pop();
  const value = values.pop();
  if (key === undefined || value === undefined || keys.length === 0) return found;
  let at = 0;
  for (;;) {
    let below = 2 * at + 1;
    if (below >= keys.length) break;
    if (below + 1 < keys.length && (keys[below + 1] ?? 0) < (keys[below] ?? 0)) below++;
    if ((keys[below] ?? 0) >= key) break;
    keys[at] = keys[below] ?? 0;
    values[at] = values[below] as V;
    at = below;
  }
  keys[at] = key;
  values[at] = value;
  return found;
}
