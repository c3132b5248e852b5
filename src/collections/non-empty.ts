/** Lists that hold at least one item, typed as such: whoever gets one need not ask whether there is a first. */
export type NonEmpty<T> = readonly [T, ...T[]];

export function isNonEmpty<T>(items: readonly T[]): items is NonEmpty<T> {
  return items.length > 0;
}

/** As `items.map`, without losing that there is one. */
export function mapAll<T, U>(items: NonEmpty<T>, make: (item: T, index: number) => U): NonEmpty<U> {
  const [first, ...rest] = items;
  return [make(first, 0), ...rest.map((item, index) => make(item, index + 1))];
}

/** The first item of each key, in their order. */
export function firstOfEach<T>(items: NonEmpty<T>, keyOf: (item: T) => unknown): NonEmpty<T> {
  const [first, ...rest] = items;
  const seen = new Set([keyOf(first)]);
  return [first, ...rest.filter((item) => seen.size < seen.add(keyOf(item)).size)];
}

export function lastOf<T>(items: NonEmpty<T>): T {
  return items[items.length - 1] as T;
}

/** At least two. */
export type Several<T> = readonly [T, T, ...T[]];

export function areSeveral<T>(items: readonly T[]): items is Several<T> {
  return items.length > 1;
}
