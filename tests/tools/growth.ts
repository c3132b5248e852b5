/** How time grows with size, measured in one run on one machine, so that a slow or busy machine changes nothing. */

/** Large inputs are this many times the small ones. */
const TIMES = 4;
const DOUBLINGS = Math.log2(TIMES);
/** A measurement shorter than this says little. */
const LEAST_MS = 4;
const ROUNDS = 3;
const MOST_ROUNDS = 15;

/** Twice the size takes twice the time, and a little for sorting; with the square of the size it takes four times. */
export const LINEAR = 3;
/** For work that does not depend on the size at all; in proportion to it would be 2. */
export const CONSTANT = 1.5;

/**
 * Times as long for an input of twice the size: the best of several runs at a quarter of the size and at the whole, in
 * turn. What stays above the limit is measured again, up to five times as often, before it is believed.
 */
export function growth<T>(
  size: number,
  make: (size: number) => T,
  work: (input: T) => unknown,
  limit = LINEAR,
): number {
  const small = make(Math.ceil(size / TIMES));
  const large = make(size);
  const warm = timeOf(small, work, 1);
  const repeats = Math.max(1, Math.min(500, Math.ceil(LEAST_MS / Math.max(warm, 0.001))));
  let [least, most] = [Infinity, Infinity];
  const perDoubling = (): number => (most / least) ** (1 / DOUBLINGS);
  for (let round = 0; round < ROUNDS || (round < MOST_ROUNDS && perDoubling() >= limit); round++) {
    least = Math.min(least, timeOf(small, work, repeats));
    most = Math.min(most, timeOf(large, work, repeats));
  }
  return perDoubling();
}

/** How many times as long one piece of work takes as another, the best of several runs of each. */
export function ratio(work: () => unknown, other: () => unknown, limit: number): number {
  let [mine, theirs] = [Infinity, Infinity];
  for (let round = 0; round < ROUNDS || (round < MOST_ROUNDS && mine / theirs >= limit); round++) {
    mine = Math.min(mine, timeOf(undefined, work, 1));
    theirs = Math.min(theirs, timeOf(undefined, other, 1));
  }
  return mine / theirs;
}

export function timeOf<T>(input: T, work: (input: T) => unknown, repeats: number): number {
  const start = performance.now();
  for (let count = 0; count < repeats; count++) work(input);
  return performance.now() - start;
}
