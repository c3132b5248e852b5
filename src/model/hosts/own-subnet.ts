/** The subnet an interface is in, and whether it reaches its gateway from there. */
import type { Interface } from '../../plan/types.js';
import { inPrefix, isIPv4, networkOf, type Address, type Prefix } from '../../values/address.js';
import { subnetFor } from './addressing.js';

/** The VLAN's subnet of the address's family, else the interface's own; the host address stays in `address`. */
export function subnetOfAddress(one: Interface, address: Address): Prefix | undefined {
  const stated = one.vlan === undefined ? undefined : subnetFor(one.vlan, address);
  return stated ?? ownPrefix(address, one.address === address ? one.prefixLength : one.prefixLength6);
}

export function ownPrefix(address: Address, length: number | undefined): Prefix | undefined {
  return length === undefined ? undefined : { address, network: networkOf(address, length), length };
}

/** The address of one family that an interface holds. */
export function addressOf(one: Interface, four: boolean): Address | undefined {
  return [one.address, one.address6].find((address) => address !== undefined && isIPv4(address) === four);
}

/** Whether a gateway lies in the interface's subnet, as far as that is known (RFC 1122 §3.3.1.1). */
export function reachesGateway(one: Interface, gateway: Address): boolean {
  const stated = one.vlan === undefined ? undefined : subnetFor(one.vlan, gateway);
  if (stated !== undefined) return inPrefix(gateway, stated);
  const address = addressOf(one, isIPv4(gateway));
  const length = address === one.address ? one.prefixLength : one.prefixLength6;
  return address === undefined || length === undefined || networkOf(gateway, length) === networkOf(address, length);
}
