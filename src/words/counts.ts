/** Counted things in words: the one place that knows plurals. */

/** `1 stream`, `3 streams`; `many` only where English does not make it by rule. */
export function counted(count: number, one: string, many: string = plural(one)): string {
  return `${count} ${agree(count, one, many)}`;
}

/** `this stream`, `both streams`, `all 3 streams`. */
export function allCounted(count: number, one: string): string {
  if (count === 1) return `this ${one}`;
  return count === 2 ? `both ${plural(one)}` : `all ${counted(count, one)}`;
}

/** The word that goes with a count: `agree(names.length, 'is', 'are')`. */
export function agree(count: number, one: string, many: string = plural(one)): string {
  return count === 1 ? one : many;
}

/** `switches`, `addresses`, `entries`, `boxes`, `streams`. */
export function plural(word: string): string {
  if (/(?:s|x|z|ch|sh)$/.test(word)) return `${word}es`;
  return /[^aeiou]y$/.test(word) ? `${word.slice(0, -1)}ies` : `${word}s`;
}
