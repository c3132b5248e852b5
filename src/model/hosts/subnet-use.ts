/** How many addresses of an IPv4 subnet are spoken for. */
import { inPrefix, inRange, isIPv4, type Address, type AddressRange, type Prefix } from '../../values/address.js';
import type { Interface, Vlan } from '../../plan/types.js';
import { gatewaysOf, type Held } from './addressing.js';
import { hostRange, hostsPerSubnet4 } from './host-addresses.js';

export interface SubnetUse {
  /** Addresses for hosts (RFC 1878 Table 1-2). */
  readonly usable: number;
  /** Fixed ones outside the DHCP range: of interfaces, switches, the gateway and queriers, each once. */
  readonly fixed: number;
  /** Addresses the DHCP server hands out, or the boxes that ask for one where these are more. */
  readonly dhcp: number;
  /** Interfaces of the VLAN that have no address yet and do not ask for one. */
  readonly unnumbered: number;
  /** All three. */
  readonly used: number;
}

/** No less than what `subnetUse4` counts as used, without a look at any address. */
export function mostUsed4({ dhcp, igmp }: Vlan, held: readonly Held[], unaddressed: readonly Interface[]): number {
  const range = dhcp !== undefined && isIPv4(dhcp.first) ? Number(dhcp.last) - dhcp.first + 1 : 0;
  return held.length + GATEWAYS + (igmp?.queriers.length ?? 0) + range + unaddressed.length;
}

/** A VLAN has two at most. */
const GATEWAYS = 2;

/** Counts for one VLAN; `held` and `interfaces` are those of the VLAN, of the latter at least those without an address. */
export function subnetUse4(
  vlan: Vlan,
  subnet: Prefix,
  held: readonly Held[],
  interfaces: readonly Interface[],
): SubnetUse {
  const range = vlan.dhcp !== undefined && isIPv4(vlan.dhcp.first) ? vlan.dhcp : undefined;
  const fixed = new Set<Address>();
  const add = (address: Address | undefined): void => {
    if (address === undefined || !inPrefix(address, subnet)) return;
    if (range === undefined || !inRange(address, range)) fixed.add(address);
  };
  for (const one of held) add(one.address);
  for (const gateway of gatewaysOf(vlan)) add(gateway.address);
  for (const querier of vlan.igmp?.queriers ?? []) add(querier.address);
  let asking = 0;
  let unnumbered = 0;
  for (const one of interfaces) {
    if (one.address !== undefined || one.address6 !== undefined || one.unnumbered) continue;
    if (one.dhcp) asking++;
    else unnumbered++;
  }
  const dhcp = Math.max(range === undefined ? 0 : shared(range, hostRange(subnet)), asking);
  return {
    usable: hostsPerSubnet4(subnet.length),
    fixed: fixed.size,
    dhcp,
    unnumbered,
    used: fixed.size + dhcp + unnumbered,
  };
}

/** How many addresses two IPv4 ranges share. */
function shared(a: AddressRange, b: AddressRange): number {
  return Math.max(0, Math.min(Number(a.last), Number(b.last)) - Math.max(Number(a.first), Number(b.first)) + 1);
}
