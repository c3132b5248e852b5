/**
 * An order of clocks and of their ports that hangs on what they are joined to and not on how a plan lists them: runs draw
 * and decide in it, so that a plan written in another order gives the same times.
 */
import { append } from '../../../collections/group-by.js';
import type { TimedClock, TimedEntry } from './memory.js';

/** Clocks by identity, the ports of each by whom they meet. */
export function inOrder<C extends TimedClock>(entries: readonly TimedEntry<C>[]): readonly TimedEntry<C>[] {
  const sorted = entries.toSorted((a, b) =>
    compare(a.outcome.clock.quality.identity, b.outcome.clock.quality.identity),
  );
  const on = new Map<number, number[]>();
  sorted.forEach(({ outcome: { clock } }, index) => {
    for (const { path } of clock.ports) append(on, path, index);
  });
  return sorted.map((entry, index): TimedEntry<C> => {
    const { ports } = entry.outcome.clock;
    const met = ports.map(({ path }) => (on.get(path) ?? []).filter((other) => other !== index).slice(0, MOST_MET));
    const order = ports.map((_, port) => port).sort((a, b) => compareLists(met[a] ?? [], met[b] ?? []) || a - b);
    // Of one that nobody hears any more only where it was heard: a hub has hundreds of ports.
    return { ...entry, order: entry.isUnheard === true ? order.filter((port) => met[port]?.length !== 0) : order };
  });
}

/** Whom else a port meets tells it from the others of its clock: the first few do. */
const MOST_MET = 4;

function compare(a: bigint, b: bigint): number {
  return a < b ? -1 : a > b ? 1 : 0;
}

function compareLists(a: readonly number[], b: readonly number[]): number {
  for (let at = 0; at < Math.max(a.length, b.length); at++) {
    const difference = (a[at] ?? -1) - (b[at] ?? -1);
    if (difference !== 0) return difference;
  }
  return 0;
}
