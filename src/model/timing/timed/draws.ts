/** Random numbers that are the same on every machine and in every run. */
import type { Random } from './simulate.js';

/** One after another, from 0 to below 1; the same seed gives the same ones (mulberry32, public domain). */
export function randomFrom(seed: number): Random {
  let state = seed | 0;
  return () => {
    state = (state + 0x6d2b79f5) | 0;
    let mixed = Math.imul(state ^ (state >>> 15), 1 | state);
    mixed = (mixed + Math.imul(mixed ^ (mixed >>> 7), 61 | mixed)) ^ mixed;
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 2 ** 32;
  };
}

/** Starts to try, the same for every loss. */
export function draws(count: number): readonly Random[] {
  return Array.from({ length: count }, (_, index) => randomFrom(index + 1));
}
