/** Which addresses of a subnet a host can have, and which addresses no host should have anywhere. */
import { bitsOf, isMulticast, type Address, type AddressRange, type Prefix } from '../../values/address.js';
import { constantPrefix } from '../../values/address-table.js';
import { isLinkLocal, isPrivateUse, isShared, specialPurpose } from './special-purpose.js';

/**
 * Addresses for hosts: without network and broadcast address, which a /31 and a /32 do not have (RFC 3021 §2.1); for
 * IPv6 without the subnet-router anycast address (RFC 4291 §2.6.1), which a /127 and a /128 do not have (RFC 6164 §6).
 */
export function hostRange(prefix: Prefix): AddressRange {
  const { network, length } = prefix;
  const inner = bitsOf(network) - length > 1;
  if (typeof network === 'number') {
    const last = network + 2 ** (32 - length) - 1;
    return inner ? { first: network + 1, last: last - 1 } : { first: network, last };
  }
  return { first: inner ? network + 1n : network, last: network + (1n << BigInt(128 - length)) - 1n };
}

/** How many hosts an IPv4 subnet of this prefix length takes (RFC 1878 Table 1-2; RFC 3021 §2.1 for /31). */
export function hostsPerSubnet4(length: number): number {
  return length >= 31 ? 2 ** (32 - length) : 2 ** (32 - length) - 2;
}

/** Why an address should be on no host: `error` nobody can use it so, `warning` set aside for something else. */
export interface HostAddressFault {
  readonly severity: 'error' | 'warning' | 'note';
  readonly block: Prefix;
  /** Name in IANA's registry. */
  readonly name: string;
  /** The document that sets the block aside. */
  readonly citation: string;
}

/**
 * Undefined for private-use and ordinary unicast addresses, and for IPv6 link-local ones, which every interface has.
 * Flags are those of RFC 6890 §2.2.1: without Source a host cannot send from an address, without Destination nothing can
 * be sent to it.
 */
export function hostAddressFault(address: Address): HostAddressFault | undefined {
  if (isPrivateUse(address)) return undefined;
  if (isMulticast(address)) return typeof address === 'number' ? MULTICAST_4 : MULTICAST_6;
  const special = specialPurpose(address);
  if (special === undefined) return undefined;
  if (isLinkLocal(address) && typeof address !== 'number') return undefined;
  const { prefix: block, name, citation } = special;
  const example = name.startsWith('Documentation'); // refused nowhere by standard, yet filtered by careful gear
  const reserve = isShared(address) || name === 'Benchmarking';
  const useless = special.source === false || special.destination === false;
  const severity = useless && !example ? 'error' : reserve ? 'note' : 'warning';
  return { severity, block, name, citation };
}

const MULTICAST_4 = multicast('224.0.0.0/4', 'RFC 1112 §4');
const MULTICAST_6 = multicast('ff00::/8', 'RFC 4291 §2.7');

function multicast(block: string, citation: string): HostAddressFault {
  return { severity: 'error', block: constantPrefix(block), name: 'Multicast', citation };
}
