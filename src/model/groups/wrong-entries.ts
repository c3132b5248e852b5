/** Entries of a leg map that no pair of legs keeps: where most pairs agree on another block, the entry is the slip. */
import { groupBy } from '../../collections/group-by.js';
import type { NonEmpty } from '../../collections/non-empty.js';
import type { LegMapEntry } from '../../plan/types.js';
import { networkOf, type Address, type Prefix } from '../../values/address.js';
import { entryOf, entryOfSecond, imageOf } from './leg-map.js';

/** Numbers of the two legs of a stream, and what the conventions promise between them. */
export interface LegPair {
  readonly first: Address;
  readonly second: Address;
  readonly map: readonly LegMapEntry[];
}

export interface WrongEntry<T> {
  readonly entry: LegMapEntry;
  /** The block that no pair keeps. */
  readonly side: 'first' | 'second';
  /** The one that they all lie in there, as they do on the other side. */
  readonly should: Prefix;
  readonly broken: NonEmpty<T>;
}

/** Of fewer pairs it is as likely that they are wrong. */
const FEWEST_PAIRS = 3;

/** `broken`: pairs that don't keep their map. `all`: every pair, looked at only where an entry may be wrong. */
export function wrongEntries<T>(
  broken: readonly T[],
  pairOf: (one: T) => LegPair | undefined,
  all: () => Iterable<LegPair | undefined>,
): readonly WrongEntry<T>[] {
  const sides = (['second', 'first'] as const).map(
    (side) => [side, groupBy(broken, (one) => entryBy(side, pairOf(one)))] as const,
  );
  const found = sides.flatMap(([side, byEntry]) =>
    [...byEntry].flatMap(([entry, list]): readonly WrongEntry<T>[] => {
      const byShift = [...groupBy(list, (one) => shiftOf(pairOf(one))).entries()];
      const [most] = byShift.sort(([, a], [, b]) => b.length - a.length);
      if (most === undefined || most[1].length < FEWEST_PAIRS || most[1].length * 2 <= list.length) return [];
      const [shift, agreeing] = most;
      const should = side === 'second' ? shifted(entry.first, shift) : shifted(entry.second, -shift);
      return should === undefined ? [] : [{ entry, side, should, broken: agreeing }];
    }),
  );
  if (found.length === 0) return [];
  const kept = new Set<LegMapEntry | undefined>();
  for (const pair of all())
    if (pair !== undefined && imageOf(pair.first, pair.map) === pair.second) kept.add(entryOf(pair.first, pair.map));
  return found.filter(({ entry }) => !kept.has(entry));
}

/** Numbers of first legs that no block holds are told by those of their second legs. */
function entryBy(side: 'first' | 'second', pair: LegPair | undefined): LegMapEntry | undefined {
  if (pair === undefined) return undefined;
  const byFirst = entryOf(pair.first, pair.map);
  if (side === 'second') return byFirst;
  return byFirst === undefined ? entryOfSecond(pair.second, pair.map) : undefined;
}

function shiftOf(pair: LegPair | undefined): bigint | undefined {
  return pair === undefined ? undefined : BigInt(pair.second) - BigInt(pair.first);
}

/** Undefined where it begins at no boundary of its size. */
function shifted({ network, length }: Prefix, shift: bigint): Prefix | undefined {
  const sum = BigInt(network) + shift;
  if (sum < 0n) return undefined;
  const moved: Address = typeof network === 'number' ? Number(sum) : sum;
  return networkOf(moved, length) === moved ? { address: moved, network: moved, length } : undefined;
}
