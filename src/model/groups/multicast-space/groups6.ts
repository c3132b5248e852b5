import { networkOf, type Prefix } from '../../../values/address.js';

/** The four flags of an IPv6 group: 0RPT (RFC 4291 §2.7, R from RFC 3956 §3, P from RFC 3306 §4). */
export interface GroupFlags6 {
  /** The high-order flag, which has no meaning yet. */
  readonly reserved: boolean;
  /** R: the group carries the address of its rendezvous point. */
  readonly rendezvous: boolean;
  /** P: the group is derived from a unicast prefix. */
  readonly prefix: boolean;
  /** T: not permanently assigned by IANA. */
  readonly transient: boolean;
}

/** The flags of an IPv6 group. */
export function multicastFlags6(group: bigint): GroupFlags6 {
  const flags = Number(BigInt.asUintN(4, group >> 116n));
  return {
    reserved: (flags & 8) !== 0,
    rendezvous: (flags & 4) !== 0,
    prefix: (flags & 2) !== 0,
    transient: (flags & 1) !== 0,
  };
}

/** How the edge of a scope comes about (RFC 7346 §2). */
export type ScopeEdge6 = 'reserved' | 'unassigned' | 'interface' | 'link' | 'realm' | 'administrative' | 'none';

/** The scope field of an IPv6 group. */
export interface GroupScope6 {
  readonly value: number;
  /** As RFC 7346 §2 writes it. */
  readonly name: string;
  readonly edge: ScopeEdge6;
  /** Whether a router may carry the group from one link to another. */
  readonly routable: boolean;
}

/** The scope of an IPv6 group (RFC 4291 §2.7, names of RFC 7346 §2). */
export function multicastScope6(group: bigint): GroupScope6 {
  const value = Number(BigInt.asUintN(4, group >> 112n));
  const [name, edge] = SCOPES.get(value) ?? ['Unassigned', 'unassigned'];
  return { value, name, edge, routable: edge !== 'reserved' && edge !== 'interface' && edge !== 'link' };
}

const SCOPES: ReadonlyMap<number, readonly [string, ScopeEdge6]> = new Map([
  [0x0, ['Reserved', 'reserved']],
  [0x1, ['Interface-Local scope', 'interface']],
  [0x2, ['Link-Local scope', 'link']],
  [0x3, ['Realm-Local scope', 'realm']],
  [0x4, ['Admin-Local scope', 'administrative']],
  [0x5, ['Site-Local scope', 'administrative']],
  [0x8, ['Organization-Local scope', 'administrative']],
  [0xe, ['Global scope', 'none']],
  [0xf, ['Reserved', 'reserved']],
]);

/** The prefix length field of a prefix-based or embedded-RP group (RFC 3306 §4, RFC 3956 §3). */
export function embeddedPrefixLength6(group: bigint): number {
  return Number(BigInt.asUintN(8, group >> 96n));
}

/** The 64-bit network prefix field of such a group, as the upper half of an address. */
export function embeddedPrefixField6(group: bigint): bigint {
  return BigInt.asUintN(64, group >> 32n) << 64n;
}

/**
 * The unicast prefix an IPv6 group is derived from (RFC 3306 §4); undefined when it is derived from none: P is not
 * set, or the length is 0 (the source-specific form) or above 64.
 */
export function embeddedNetworkPrefix6(group: bigint): Prefix | undefined {
  const length = embeddedPrefixLength6(group);
  if (!multicastFlags6(group).prefix || length === 0 || length > 64) return undefined;
  const address = embeddedPrefixField6(group);
  return { address, network: networkOf(address, length), length };
}

/** The RP interface ID of an embedded-RP group (RFC 3956 §3). */
export function rendezvousInterface6(group: bigint): number {
  return Number(BigInt.asUintN(4, group >> 104n));
}

/** The rendezvous point an IPv6 group carries: its prefix with the interface ID behind (RFC 3956 §4). */
export function embeddedRendezvousPoint6(group: bigint): bigint | undefined {
  const network = multicastFlags6(group).rendezvous ? embeddedNetworkPrefix6(group)?.network : undefined;
  return typeof network === 'bigint' ? network | BigInt(rendezvousInterface6(group)) : undefined;
}
