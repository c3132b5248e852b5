/**
 * Addresses as plain numbers: an IPv4 address is its 32-bit value as `number`, an IPv6 address its 128-bit value as
 * `bigint`. They compare, sort and key a Map natively, and the type says the family.
 *
 * The IPv4 reader is written here because a plan holds hundreds of thousands of addresses and the library's parser
 * builds an object with its own text for each; it accepts exactly the four-decimal form and is tested against two
 * libraries. IPv6 is rare enough to leave to the library.
 */
import { Address6 } from 'ip-address';

export type Address4 = number;
export type Address6Value = bigint;
export type Address = Address4 | Address6Value;

/** The network part has host bits zero; `address` keeps them as written. */
export interface Prefix {
  readonly address: Address;
  readonly network: Address;
  readonly length: number;
}

/** Inclusive on both ends, one family. */
export interface AddressRange {
  readonly first: Address;
  readonly last: Address;
}

const ZERO = 48;
const NINE = 57;
const DOT = 46;

/** Four decimal octets without leading zeros, nothing else; undefined otherwise. */
export function parseAddress4(text: string): Address4 | undefined {
  const length = text.length;
  if (length < 7 || length > 15) return undefined;
  let value = 0;
  let octet = -1;
  let digits = 0;
  let dots = 0;
  for (let i = 0; i < length; i++) {
    const code = text.charCodeAt(i);
    if (code >= ZERO && code <= NINE) {
      if (digits > 0 && octet === 0) return undefined; // 010 is read as octal by some systems: refuse, never guess
      octet = digits === 0 ? code - ZERO : octet * 10 + (code - ZERO);
      digits++;
      if (octet > 255) return undefined;
    } else if (code === DOT) {
      if (digits === 0 || dots === 3) return undefined;
      value = value * 256 + octet;
      dots++;
      digits = 0;
      octet = -1;
    } else return undefined;
  }
  return dots === 3 && digits > 0 ? value * 256 + octet : undefined;
}

/** IPv6 text (RFC 4291 §2.2) without zone or prefix length; undefined otherwise. */
export function parseAddress6(text: string): Address6Value | undefined {
  if (!text.includes(':') || text.includes('/') || text.includes('%') || !Address6.isValid(text)) return undefined;
  return new Address6(text).bigInt();
}

export function parseAddress(text: string): Address | undefined {
  return parseAddress4(text) ?? parseAddress6(text);
}

/** `10.1.2.3/24`: an address and its prefix length; undefined when either part is malformed. */
export function parsePrefix(text: string): Prefix | undefined {
  const slash = text.indexOf('/');
  if (slash < 0) return undefined;
  const digits = text.slice(slash + 1);
  if (!/^(0|[1-9]\d{0,2})$/.test(digits)) return undefined;
  const address = parseAddress(text.slice(0, slash));
  const length = Number(digits);
  if (address === undefined || length > bitsOf(address)) return undefined;
  return { address, network: networkOf(address, length), length };
}

/** `10.1.2.3-10.1.2.9` or a prefix; undefined when malformed, of mixed families or backwards. */
export function parseRange(text: string): AddressRange | undefined {
  const prefix = parsePrefix(text);
  if (prefix !== undefined) return rangeOf(prefix);
  const dash = text.indexOf('-');
  if (dash < 0) return undefined;
  const first = parseAddress(text.slice(0, dash).trim());
  const last = parseAddress(text.slice(dash + 1).trim());
  if (first === undefined || last === undefined || typeof first !== typeof last || first > last) return undefined;
  return { first, last };
}

export function isIPv4(address: Address): address is Address4 {
  return typeof address === 'number';
}

/** 32 or 128. */
export function bitsOf(address: Address): 32 | 128 {
  return typeof address === 'number' ? 32 : 128;
}

/** The address with its host bits cleared. */
export function networkOf(address: Address, length: number): Address {
  if (typeof address === 'number') return length === 0 ? 0 : (address & (0xffffffff << (32 - length))) >>> 0;
  const hostBits = BigInt(128 - length);
  return (address >> hostBits) << hostBits;
}

/** First and last address of a prefix, network and broadcast address included. */
export function rangeOf(prefix: Prefix): AddressRange {
  const { network, length } = prefix;
  if (typeof network === 'number') return { first: network, last: network + 2 ** (32 - length) - 1 };
  return { first: network, last: network + (1n << BigInt(128 - length)) - 1n };
}

/** False when the families differ. */
export function inPrefix(address: Address, prefix: Prefix): boolean {
  if (typeof address !== typeof prefix.network) return false;
  return networkOf(address, prefix.length) === prefix.network;
}

/** False when the families differ. */
export function inRange(address: Address, range: AddressRange): boolean {
  return typeof address === typeof range.first && address >= range.first && address <= range.last;
}

/** Whether two prefixes share any address. */
export function overlaps(a: Prefix, b: Prefix): boolean {
  return a.length <= b.length ? inPrefix(b.network, a) : inPrefix(a.network, b);
}

/**
 * 224.0.0.0/4 (RFC 1112 §4) or ff00::/8 (RFC 4291 §2.7).
 */
export function isMulticast(address: Address): boolean {
  if (typeof address === 'number') return address >= 0xe0000000 && address <= 0xefffffff;
  return address >> 120n === 0xffn;
}

export function formatAddress(address: Address): string {
  if (typeof address === 'number') {
    return `${address >>> 24}.${(address >>> 16) & 255}.${(address >>> 8) & 255}.${address & 255}`;
  }
  return Address6.fromBigInt(address).correctForm();
}

/** The prefix with host bits cleared. */
export function formatPrefix(prefix: Prefix): string {
  return `${formatAddress(prefix.network)}/${prefix.length}`;
}

export function formatRange(range: AddressRange): string {
  return `${formatAddress(range.first)}-${formatAddress(range.last)}`;
}
