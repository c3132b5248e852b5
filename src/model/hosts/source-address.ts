/** Addresses no packet may come from. */
import { formatPrefix, inPrefix, isIPv4, isMulticast, rangeOf, type Address } from '../../values/address.js';
import type { Vlan } from '../../plan/types.js';
import { constantPrefix } from '../../values/address-table.js';
import { isBroadcast, isLinkLocal, isLoopback, isUnspecified } from './special-purpose.js';

const THIS_NETWORK = constantPrefix('0.0.0.0/8');
const RESERVED = constantPrefix('240.0.0.0/4');

/**
 * Why an address cannot be the source of a stream, in words that follow it; undefined when it can. A group (RFC 1112
 * §7.2), 0/8, loopback and broadcasts (RFC 1122 §3.2.1.3), 240/4 (RFC 1112 §4), an IPv4 link-local address (RFC 3927
 * §2.7: it stays on the link and changes), or the network or broadcast address of its VLAN's subnet.
 */
export function whyNoSource(source: Address, vlan: Vlan | undefined): string | undefined {
  if (isMulticast(source)) return 'which is a group, not a host';
  if (isUnspecified(source)) return 'which stands for no address at all';
  if (isLoopback(source)) return 'which never leaves the host';
  if (!isIPv4(source)) return undefined;
  if (isLinkLocal(source)) return 'an address a host picks for itself when it got none';
  if (isBroadcast(source)) return 'which is the broadcast address';
  if (inPrefix(source, THIS_NETWORK)) return 'which no host can have (0.0.0.0/8)';
  if (inPrefix(source, RESERVED)) return 'which no host can have (240.0.0.0/4)';
  const subnet = vlan?.subnet;
  // RFC 3021 §2.1: both addresses of a /31 are hosts.
  if (vlan === undefined || subnet === undefined || subnet.length > 30 || !inPrefix(source, subnet)) return undefined;
  const { first, last } = rangeOf(subnet);
  if (source !== first && source !== last) return undefined;
  return `the ${source === first ? 'network' : 'broadcast'} address of ${formatPrefix(subnet)} (VLAN ${vlan.name})`;
}
