/** A binary heap of numbers by their keys, the lowest first. */
export interface Heap {
  readonly keys: number[];
  readonly values: number[];
}

export function push({ keys, values }: Heap, key: number, value: number): void {
  let at = keys.length;
  keys.push(key);
  values.push(value);
  while (at > 0) {
    const above = (at - 1) >> 1;
    if ((keys[above] ?? 0) <= key) break;
    keys[at] = keys[above] ?? 0;
    values[at] = values[above] ?? 0;
    at = above;
  }
  keys[at] = key;
  values[at] = value;
}

/** Undefined from an empty heap. */
export function pop({ keys, values }: Heap): number | undefined {
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
    values[at] = values[below] ?? 0;
    at = below;
  }
  keys[at] = key;
  values[at] = value;
  return found;
}
