/** Addresses no packet may come from. */
import { formatPrefix, inPrefix, isIPv4, isMulticast, rangeOf, type Address } from '../../values/address.js';
import type { Vlan } from '../../plan/types.js';
import { constantPrefix } from '../../values/address-table.js';
import { isBroadcast, isLinkLocal, isLoopback, isUnspecified } from './special-purpose.js';

const THIS_NETWORK = constantPrefix('0.0.0.0/8');
const RESERVED = constantPrefix('240.0.0.0/4');

/** Why an address can't be the source of a stream; `subnet` and `vlan` where it is an address of a subnet and no host's. */
export type SourceFault =
  | {
      readonly kind: 'group' | 'unspecified' | 'loopback' | 'link-local' | 'broadcast' | 'this-network' | 'reserved';
    }
  | { readonly kind: 'subnet-network' | 'subnet-broadcast'; readonly subnet: string; readonly vlan: Vlan };

/**
 * What keeps an address from being the source of a stream; undefined when it can be. A group (RFC 1112 §7.2), 0/8,
 * loopback and broadcasts (RFC 1122 §3.2.1.3), 240/4 (RFC 1112 §4), an IPv4 link-local address (RFC 3927 §2.7: it stays
 * on the link and changes), or the network or broadcast address of its VLAN's subnet.
 */
export function sourceFault(source: Address, vlan: Vlan | undefined): SourceFault | undefined {
  if (isMulticast(source)) return { kind: 'group' };
  if (isUnspecified(source)) return { kind: 'unspecified' };
  if (isLoopback(source)) return { kind: 'loopback' };
  if (!isIPv4(source)) return undefined;
  if (isLinkLocal(source)) return { kind: 'link-local' };
  if (isBroadcast(source)) return { kind: 'broadcast' };
  if (inPrefix(source, THIS_NETWORK)) return { kind: 'this-network' };
  if (inPrefix(source, RESERVED)) return { kind: 'reserved' };
  const subnet = vlan?.subnet;
  // RFC 3021 §2.1: both addresses of a /31 are hosts.
  if (vlan === undefined || subnet === undefined || subnet.length > 30 || !inPrefix(source, subnet)) return undefined;
  const { first, last } = rangeOf(subnet);
  if (source !== first && source !== last) return undefined;
  return { kind: source === first ? 'subnet-network' : 'subnet-broadcast', subnet: formatPrefix(subnet), vlan };
}
