import {
  bitsOf,
  formatAddress,
  isMulticast,
  parseAddress4,
  parseAddress6,
  type Address,
} from '../../values/address.js';
import { quote, type ProblemList } from '../problem-list.js';
import type { Placed } from '../tree.js';
import type { Line } from './lines.js';
import { placed, slice, spanOf, split, wordsOf, type Piece } from './piece.js';

/** One destination of a `c=` line; a destination known only by its host name has no `address`. */
export interface Destination {
  /** What a source filter names it by: see `destinationKey`. */
  readonly key: string;
  readonly multicast: boolean;
  readonly address: Placed<string> | undefined;
  readonly ttl: Placed<number> | undefined;
}

/** More groups than one line can sensibly name: a bound against a file written to exhaust memory. */
const MOST_GROUPS = 1000;

const WRITE = 'write `c=IN IP4 239.1.2.3/32`: network, address family, address, and for an IPv4 group its TTL';

/**
 * Destinations of a `c=` line (RFC 8866 §5.7): `group/ttl/count` (IPv4) and `group/count` (IPv6) name `count`
 * contiguous groups. None for the placeholders `0.0.0.0` and `::` of offers and answers (RFC 3264 §8.4).
 */
export function readConnection(line: Line, problems: ProblemList): readonly Destination[] {
  const [network, family, where, extra] = wordsOf(line.value);
  if (network === undefined || family === undefined || where === undefined) {
    return refuse(line.value, `\`c=\` line ${quote(line.value.text)} has fewer than three parts`);
  }
  if (extra !== undefined) return refuse(extra, `${quote(extra.text)} does not belong on a \`c=\` line`);
  if (network.text !== 'IN') return refuse(network, `network type ${quote(network.text)} is not \`IN\`, the Internet`);
  if (family.text !== 'IP4' && family.text !== 'IP6') {
    return refuse(family, `address family ${quote(family.text)} is neither \`IP4\` nor \`IP6\``);
  }
  const [base, ...suffixes] = split(where, '/');
  if (base === undefined) return [];
  if (isHostName(base.text, family.text)) {
    return [{ key: destinationKey(base.text), multicast: false, address: undefined, ttl: undefined }];
  }
  const address = family.text === 'IP4' ? parseAddress4(base.text) : parseAddress6(base.text);
  if (address === undefined) {
    return refuse(base, `${quote(base.text)} is not an ${family.text === 'IP4' ? 'IPv4' : 'IPv6'} address`);
  }
  if (address === 0 || address === 0n) return [];
  return expand(address, base, suffixes);

  function expand(first: Address, from: Piece, parts: readonly Piece[]): readonly Destination[] {
    const [ttlPart, countPart, surplus] = typeof first === 'number' ? parts : [undefined, ...parts];
    if (surplus !== undefined) return refuse(surplus, `${quote(surplus.text)} does not belong after the address`);
    const ttl = ttlPart && wholeNumber(ttlPart, 0, 255);
    if (ttlPart !== undefined && ttl === undefined) {
      return refuse(ttlPart, `TTL ${quote(ttlPart.text)} is not a number from 0 to 255`);
    }
    const count = countPart === undefined ? 1 : wholeNumber(countPart, 1, MOST_GROUPS);
    if (countPart !== undefined && count === undefined) {
      return refuse(countPart, `${quote(countPart.text)} is not a number of groups from 1 to ${MOST_GROUPS}`);
    }
    const last = plus(first, (count ?? 1) - 1);
    if (countPart !== undefined && count !== 1 && (!isMulticast(first) || last === undefined || !isMulticast(last))) {
      return refuse(countPart, `${count ?? 1} addresses from ${formatAddress(first)} are not all multicast groups`);
    }
    const ttlValue = ttlPart && ttl !== undefined ? placed(ttlPart, ttl) : undefined;
    return Array.from({ length: count ?? 1 }, (_, index) => {
      const one = plus(first, index) ?? first;
      // The first keeps the file's own spelling, so that what a report shows is what the file says.
      const text = index === 0 ? from.text : formatAddress(one);
      return { key: String(one), multicast: isMulticast(one), address: placed(from, text), ttl: ttlValue };
    });
  }

  function refuse(piece: Piece, what: string): readonly Destination[] {
    problems.add(spanOf(piece), what, WRITE);
    return [];
  }
}

/** What two spellings of one destination have in common: its number, or its host name in lower case. */
export function destinationKey(text: string): string {
  return String(parseAddress4(text) ?? parseAddress6(text) ?? text.toLowerCase());
}

/** Whether text that is no address can be a host name: its last label is not a number, as in `239.1.1`. */
export function isHostName(text: string, family: string): boolean {
  if (family === 'IP6' && text.includes(':')) return false;
  return text.length <= 255 && /^[A-Za-z0-9_-]+(\.[A-Za-z0-9_-]+)*\.?$/.test(text) && !/(^|\.)\d+\.?$/.test(text);
}

/** The number a piece states, when it is whole and in range. */
export function wholeNumber(piece: Piece, least: number, most: number): number | undefined {
  if (!/^\d{1,10}$/.test(piece.text)) return undefined;
  const value = Number(piece.text);
  return value >= least && value <= most ? value : undefined;
}

/** The part before a slash: some senders write a filter's destination with the TTL of the `c=` line. */
export function beforeSlash(piece: Piece): Piece {
  const slash = piece.text.indexOf('/');
  return slash < 0 ? piece : slice(piece, 0, slash);
}

function plus(address: Address, offset: number): Address | undefined {
  if (typeof address === 'number') return address + offset < 2 ** 32 ? address + offset : undefined;
  const sum = address + BigInt(offset);
  return sum < 1n << BigInt(bitsOf(address)) ? sum : undefined;
}
