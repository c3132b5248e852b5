/** Addresses of a subnet that no host should have. */
import { inPrefix, isIPv4, networkOf, type Prefix } from '../../values/address.js';
import { forwards, subnetFor, type Held } from './addressing.js';

/** `anycast`: the subnet-router anycast address (RFC 4291 §2.6.1). */
export type EdgeKind = 'network' | 'broadcast' | 'anycast';

export interface SubnetEdge {
  readonly subnet: Prefix;
  readonly kind: EdgeKind;
}

/**
 * Which end of its subnet an address is (RFC 1122 §3.2.1.3); undefined for host addresses. Both addresses of a /31 are
 * hosts (RFC 3021 §2.1), a /127 has no anycast address (RFC 6164 §6), and a router may hold the anycast address.
 */
export function subnetEdge(held: Held): SubnetEdge | undefined {
  const subnet = knownSubnet(held);
  const kind = subnet === undefined ? undefined : edgeKind(held, subnet);
  return subnet === undefined || kind === undefined ? undefined : { subnet, kind };
}

/** The VLAN's subnet, else the box's own. */
function knownSubnet({ address, prefixLength, vlan }: Held): Prefix | undefined {
  const stated = vlan === undefined ? undefined : subnetFor(vlan, address);
  if (stated !== undefined || prefixLength === undefined) return stated;
  return { address, network: networkOf(address, prefixLength), length: prefixLength };
}

function edgeKind({ address, owner }: Held, subnet: Prefix): EdgeKind | undefined {
  const { length, network } = subnet;
  if (length === 0 || !inPrefix(address, subnet)) return undefined;
  if (!isIPv4(address)) return address === network && length <= 126 && !forwards(owner) ? 'anycast' : undefined;
  if (length > 30) return undefined;
  return address === network ? 'network' : allHostBits(address, length) ? 'broadcast' : undefined;
}

function allHostBits(address: number, length: number): boolean {
  return (address | (0xffffffff << (32 - length))) === -1;
}
