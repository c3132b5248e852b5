/** The conventions' promise that the second leg's numbers follow from the first's. */
import { inPrefix, type Address, type Prefix } from '../../values/address.js';
import type { LegMapEntry } from '../../plan/types.js';

/** The address at the same place in `second` as `first` has it in its block; undefined when no entry holds it. */
export function imageOf(first: Address, map: readonly LegMapEntry[]): Address | undefined {
  const entry = narrowest(first, map, 'first');
  return entry === undefined ? undefined : moved(first, entry.first, entry.second);
}

/** The entry that derives the second leg's number from a first leg's; undefined when none holds it. */
export function entryOf(first: Address, map: readonly LegMapEntry[]): LegMapEntry | undefined {
  return narrowest(first, map, 'first');
}

/** The entry in whose block for second legs a number lies; undefined when none holds it. */
export function entryOfSecond(second: Address, map: readonly LegMapEntry[]): LegMapEntry | undefined {
  return narrowest(second, map, 'second');
}

/** The first-leg address that `second` is the image of; undefined when no entry holds it. */
export function preimageOf(second: Address, map: readonly LegMapEntry[]): Address | undefined {
  const entry = narrowest(second, map, 'second');
  return entry === undefined ? undefined : moved(second, entry.second, entry.first);
}

/** The entry whose block holds the address most narrowly. */
function narrowest(address: Address, map: readonly LegMapEntry[], side: 'first' | 'second'): LegMapEntry | undefined {
  let best: LegMapEntry | undefined;
  for (const entry of map) {
    if (inPrefix(address, entry[side]) && (best === undefined || entry[side].length > best[side].length)) best = entry;
  }
  return best;
}

function moved(address: Address, from: Prefix, to: Prefix): Address | undefined {
  if (typeof address === 'number' && typeof from.network === 'number' && typeof to.network === 'number')
    return to.network + (address - from.network);
  if (typeof address === 'bigint' && typeof from.network === 'bigint' && typeof to.network === 'bigint')
    return to.network + (address - from.network);
  return undefined;
}
