import { inPrefix, isMulticast, type Address, type Prefix } from '../../values/address.js';
import { constantPrefix } from '../../values/address-table.js';

/**
 * A row of IANA's special-purpose address registries (RFC 6890 §2.2). A flag is undefined where the registry says so:
 * deprecated blocks have none, and for Teredo and 6to4 reachability depends on the address inside.
 */
export interface SpecialPurpose {
  readonly prefix: Prefix;
  readonly name: string;
  /** The document that sets the block aside. */
  readonly citation: string;
  /** May be the source of a packet. */
  readonly source: boolean | undefined;
  /** May be the destination of a packet. */
  readonly destination: boolean | undefined;
  /** A router may forward it from one interface to another. */
  readonly forwardable: boolean | undefined;
  /** May cross the border of an administrative domain. */
  readonly globallyReachable: boolean | undefined;
}

/** The most specific registry row that holds the address; undefined for ordinary unicast and for groups. */
export function specialPurpose(address: Address): SpecialPurpose | undefined {
  const table = typeof address === 'number' ? MOST_SPECIFIC_FIRST_4 : MOST_SPECIFIC_FIRST_6;
  return table.find(({ prefix }) => inPrefix(address, prefix));
}

/** RFC 1918 §3; for IPv6 the unique local addresses of RFC 4193 §3. */
export function isPrivateUse(address: Address): boolean {
  // Most addresses of a large plan are these, and every rule on hosts asks.
  if (typeof address === 'number' && address >>> 24 === 10) return true;
  return inAny(address, PRIVATE_USE);
}

/** 169.254.0.0/16 (RFC 3927 §2.1) or fe80::/10 (RFC 4291 §2.5.6). */
export function isLinkLocal(address: Address): boolean {
  return typeof address === 'number' ? address >>> 16 === LINK_LOCAL_4 : inPrefix(address, LINK_LOCAL_6);
}

/** 127.0.0.0/8 (RFC 1122 §3.2.1.3) or ::1 (RFC 4291 §2.5.3). */
export function isLoopback(address: Address): boolean {
  return inAny(address, LOOPBACK);
}

/** A unicast address for examples only: RFC 5737 §3, RFC 3849 §2, RFC 9637 §2. */
export function isDocumentation(address: Address): boolean {
  return inAny(address, DOCUMENTATION);
}

/** 100.64.0.0/10, between a carrier and its customers (RFC 6598 §7). */
export function isShared(address: Address): boolean {
  return inPrefix(address, SHARED);
}

/** 0.0.0.0 (RFC 1122 §3.2.1.3) or :: (RFC 4291 §2.5.2): no address yet. */
export function isUnspecified(address: Address): boolean {
  return address === 0 || address === 0n;
}

/** 255.255.255.255 (RFC 919 §7). The directed broadcast of a subnet depends on its prefix length. */
export function isBroadcast(address: Address): boolean {
  return address === 0xffffffff;
}

/**
 * A public unicast address: neither group nor special purpose, unless the registry calls that block globally reachable.
 * Blocks for which the registry makes no statement do not count. For IPv6, 2000::/3 is all that IANA allocates from.
 */
export function isGloballyReachableUnicast(address: Address): boolean {
  if (isPrivateUse(address) || isMulticast(address)) return false;
  const special = specialPurpose(address);
  if (special !== undefined) return special.globallyReachable === true;
  return typeof address === 'number' || inPrefix(address, GLOBAL_UNICAST_6);
}

function inAny(address: Address, prefixes: readonly Prefix[]): boolean {
  for (const prefix of prefixes) if (inPrefix(address, prefix)) return true;
  return false;
}

const PRIVATE_USE = ['10.0.0.0/8', '172.16.0.0/12', '192.168.0.0/16', 'fc00::/7'].map(constantPrefix);
/** 169.254 in the upper half of an address. */
const LINK_LOCAL_4 = 0xa9fe;
const LINK_LOCAL_6 = constantPrefix('fe80::/10');
const LOOPBACK = ['127.0.0.0/8', '::1/128'].map(constantPrefix);
const DOCUMENTATION = ['192.0.2.0/24', '198.51.100.0/24', '203.0.113.0/24', '2001:db8::/32', '3fff::/20'].map(
  constantPrefix,
);
const SHARED = constantPrefix('100.64.0.0/10');
const GLOBAL_UNICAST_6 = constantPrefix('2000::/3');

/**
 * IANA IPv4 Special-Purpose Address Registry. Flags in the registry's order: source, destination, forwardable, globally
 * reachable; `y` true, `n` false, `-` not stated.
 */
export const SPECIAL_PURPOSE_4: readonly SpecialPurpose[] = [
  row('0.0.0.0/8', '"This network"', 'ynnn', 'RFC 791 §3.2'),
  row('0.0.0.0/32', '"This host on this network"', 'ynnn', 'RFC 1122 §3.2.1.3'),
  row('10.0.0.0/8', 'Private-Use', 'yyyn', 'RFC 1918'),
  row('100.64.0.0/10', 'Shared Address Space', 'yyyn', 'RFC 6598'),
  row('127.0.0.0/8', 'Loopback', 'nnnn', 'RFC 1122 §3.2.1.3'),
  row('169.254.0.0/16', 'Link Local', 'yynn', 'RFC 3927'),
  row('172.16.0.0/12', 'Private-Use', 'yyyn', 'RFC 1918'),
  row('192.0.0.0/24', 'IETF Protocol Assignments', 'nnnn', 'RFC 6890 §2.1'),
  row('192.0.0.0/29', 'IPv4 Service Continuity Prefix', 'yyyn', 'RFC 7335'),
  row('192.0.0.8/32', 'IPv4 dummy address', 'ynnn', 'RFC 7600'),
  row('192.0.0.9/32', 'Port Control Protocol Anycast', 'yyyy', 'RFC 7723'),
  row('192.0.0.10/32', 'Traversal Using Relays around NAT Anycast', 'yyyy', 'RFC 8155'),
  row('192.0.0.170/32', 'NAT64/DNS64 Discovery', 'nnnn', 'RFC 8880, RFC 7050 §2.2'),
  row('192.0.0.171/32', 'NAT64/DNS64 Discovery', 'nnnn', 'RFC 8880, RFC 7050 §2.2'),
  row('192.0.2.0/24', 'Documentation (TEST-NET-1)', 'nnnn', 'RFC 5737'),
  row('192.31.196.0/24', 'AS112-v4', 'yyyy', 'RFC 7535'),
  row('192.52.193.0/24', 'AMT', 'yyyy', 'RFC 7450'),
  row('192.88.99.0/24', 'Deprecated (6to4 Relay Anycast)', '----', 'RFC 7526'),
  row('192.168.0.0/16', 'Private-Use', 'yyyn', 'RFC 1918'),
  row('192.175.48.0/24', 'Direct Delegation AS112 Service', 'yyyy', 'RFC 7534'),
  row('198.18.0.0/15', 'Benchmarking', 'yyyn', 'RFC 2544'),
  row('198.51.100.0/24', 'Documentation (TEST-NET-2)', 'nnnn', 'RFC 5737'),
  row('203.0.113.0/24', 'Documentation (TEST-NET-3)', 'nnnn', 'RFC 5737'),
  row('240.0.0.0/4', 'Reserved', 'nnnn', 'RFC 1112 §4'),
  row('255.255.255.255/32', 'Limited Broadcast', 'nynn', 'RFC 8190, RFC 919 §7'),
];

/** IANA IPv6 Special-Purpose Address Registry; flags as for IPv4. */
export const SPECIAL_PURPOSE_6: readonly SpecialPurpose[] = [
  row('::1/128', 'Loopback Address', 'nnnn', 'RFC 4291'),
  row('::/128', 'Unspecified Address', 'ynnn', 'RFC 4291'),
  row('::ffff:0:0/96', 'IPv4-mapped Address', 'nnnn', 'RFC 4291'),
  row('64:ff9b::/96', 'IPv4-IPv6 Translat.', 'yyyy', 'RFC 6052'),
  row('64:ff9b:1::/48', 'IPv4-IPv6 Translat.', 'yyyn', 'RFC 8215'),
  row('100::/64', 'Discard-Only Address Block', 'yyyn', 'RFC 6666'),
  row('100:0:0:1::/64', 'Dummy IPv6 Prefix', 'ynnn', 'RFC 9780'),
  row('2001::/23', 'IETF Protocol Assignments', 'nnnn', 'RFC 2928'),
  row('2001::/32', 'TEREDO', 'yyy-', 'RFC 4380, RFC 8190'),
  row('2001:1::1/128', 'Port Control Protocol Anycast', 'yyyy', 'RFC 7723'),
  row('2001:1::2/128', 'Traversal Using Relays around NAT Anycast', 'yyyy', 'RFC 8155'),
  row('2001:1::3/128', 'DNS-SD Service Registration Protocol Anycast', 'yyyy', 'draft-ietf-dnssd-srp-25'),
  row('2001:2::/48', 'Benchmarking', 'yyyn', 'RFC 5180'),
  row('2001:3::/32', 'AMT', 'yyyy', 'RFC 7450'),
  row('2001:4:112::/48', 'AS112-v6', 'yyyy', 'RFC 7535'),
  row('2001:10::/28', 'Deprecated (previously ORCHID)', '----', 'RFC 4843'),
  row('2001:20::/28', 'ORCHIDv2', 'yyyy', 'RFC 7343'),
  row('2001:30::/28', 'Drone Remote ID Protocol Entity Tags (DETs) Prefix', 'yyyy', 'RFC 9374'),
  row('2001:db8::/32', 'Documentation', 'nnnn', 'RFC 3849'),
  row('2002::/16', '6to4', 'yyy-', 'RFC 3056'),
  row('2620:4f:8000::/48', 'Direct Delegation AS112 Service', 'yyyy', 'RFC 7534'),
  row('3fff::/20', 'Documentation', 'nnnn', 'RFC 9637'),
  row('5f00::/16', 'Segment Routing (SRv6) SIDs', 'yyyn', 'RFC 9602'),
  row('fc00::/7', 'Unique-Local', 'yyyn', 'RFC 4193, RFC 8190'),
  row('fe80::/10', 'Link-Local Unicast', 'yynn', 'RFC 4291'),
];

const MOST_SPECIFIC_FIRST_4 = SPECIAL_PURPOSE_4.toSorted((a, b) => b.prefix.length - a.prefix.length);
const MOST_SPECIFIC_FIRST_6 = SPECIAL_PURPOSE_6.toSorted((a, b) => b.prefix.length - a.prefix.length);

function row(prefix: string, name: string, flags: string, citation: string): SpecialPurpose {
  const [source, destination, forwardable, globallyReachable] = Array.from(flags, (flag) =>
    flag === '-' ? undefined : flag === 'y',
  );
  return { prefix: constantPrefix(prefix), name, citation, source, destination, forwardable, globallyReachable };
}
