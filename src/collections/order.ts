/** Orders that are the same on every machine. */
import type { NonEmpty } from './non-empty.js';

/**
 * Sorted by label, so that a finding reads the same however the plan is ordered; numbers inside labels count as numbers
 * (cam-2 before cam-10).
 */
export function byLabel<T>(items: NonEmpty<T>, label: (item: T) => string): NonEmpty<T>;
export function byLabel<T>(items: readonly T[], label: (item: T) => string): readonly T[];
export function byLabel<T>(items: readonly T[], label: (item: T) => string): readonly T[] {
  return items.length < 2
    ? items
    : [...items].sort((a, b) => COLLATOR.compare(label(a), label(b)) || byCodeUnit(label(a), label(b)));
}

const COLLATOR = new Intl.Collator('en', { numeric: true });

/** By code unit: the same whatever the language of the machine. */
export function byCodeUnit(a: string, b: string): number {
  return ascending(a, b);
}

/** From small to large, for numbers of one kind or texts. */
export function ascending<T extends string | number | bigint>(a: T, b: T): number {
  return a < b ? -1 : a > b ? 1 : 0;
}
