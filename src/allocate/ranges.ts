/** Sets of numbers as sorted ranges, asked by binary search. */

/** Inclusive on both ends. */
export interface NumberRange {
  readonly first: number;
  readonly last: number;
}

export interface RangeSet {
  readonly ranges: readonly NumberRange[];
  /** The range of the set that meets this one first, if any does. */
  readonly meets: (first: number, last: number) => NumberRange | undefined;
}

/** Joins ranges that overlap or touch. */
export function rangeSet(given: Iterable<NumberRange>): RangeSet {
  const ranges: { first: number; last: number }[] = [];
  for (const { first, last } of [...given].sort((a, b) => a.first - b.first)) {
    const before = ranges.at(-1);
    if (before !== undefined && first <= before.last + 1) before.last = Math.max(before.last, last);
    else ranges.push({ first, last });
  }
  return {
    ranges,
    meets: (first, last) => {
      let low = 0;
      let high = ranges.length;
      while (low < high) {
        const middle = (low + high) >>> 1;
        if ((ranges[middle]?.last ?? Infinity) < first) low = middle + 1;
        else high = middle;
      }
      const found = ranges[low];
      return found !== undefined && found.first <= last ? found : undefined;
    },
  };
}

/**
 * The lowest multiple of `size` above `base` within a range, such that `size` numbers from there meet none of the sets;
 * `shifts` are asked for as well, each that much higher.
 */
export function firstClear(
  { first, last }: NumberRange,
  size: number,
  sets: readonly { readonly set: RangeSet; readonly shift: number }[],
): number | undefined {
  let at = Math.ceil(first / size) * size;
  while (at + size - 1 <= last) {
    let next = at;
    for (const { set, shift } of sets) {
      const hit = set.meets(at + shift, at + shift + size - 1);
      if (hit !== undefined) next = Math.max(next, Math.ceil((hit.last - shift + 1) / size) * size, at + size);
    }
    if (next === at) return at;
    at = next;
  }
  return undefined;
}

/** Of pieces of less than 2^bits numbers, the size of the largest that lies in one of the ranges and meets no set; 0 for none. */
export function largestClear(
  ranges: readonly NumberRange[],
  bits: number,
  sets: Parameters<typeof firstClear>[2],
): number {
  for (let smaller = bits - 1; smaller >= 0; smaller--)
    if (ranges.some((range) => firstClear(range, 2 ** smaller, sets) !== undefined)) return 2 ** smaller;
  return 0;
}
