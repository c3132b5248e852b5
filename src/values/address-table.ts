import { parseAddress4, parseAddress6, parsePrefix, type Address, type AddressRange, type Prefix } from './address.js';

/** Reads an IPv4 address of a constant table; a slip there must stop the program, not pass as "no match". */
export function constantAddress4(text: string): number {
  return required(parseAddress4(text), text);
}

/** Reads an IPv6 address of a constant table. */
export function constantAddress6(text: string): bigint {
  return required(parseAddress6(text), text);
}

/** Reads a prefix of a constant table. */
export function constantPrefix(text: string): Prefix {
  return required(parsePrefix(text), text);
}

/** The range in `table`, sorted and without overlap, that holds the address; binary search. */
export function findRange<T extends { readonly range: AddressRange }>(
  table: readonly T[],
  address: Address,
): T | undefined {
  let low = 0;
  let high = table.length - 1;
  while (low <= high) {
    const middle = (low + high) >>> 1;
    const entry = table[middle];
    if (entry === undefined) return undefined;
    if (address < entry.range.first) high = middle - 1;
    else if (address > entry.range.last) low = middle + 1;
    else return entry;
  }
  return undefined;
}

function required<T>(value: T | undefined, text: string): T {
  if (value === undefined) throw new Error(`not an address: ${text}`);
  return value;
}
