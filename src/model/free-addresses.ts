/** Addresses nobody uses, for suggestions. */
import { inRange, type Address } from '../values/address.js';
import type { Vlan } from '../plan/types.js';
import { gatewaysOf, subnetFor } from './addressing.js';
import { hostRange } from './host-addresses.js';
import type { Owners } from './owners.js';

/** Looking further would make a plan full of faults slow. */
const MOST_TRIES = 512;

/**
 * Gives the next address of the VLAN's subnet after `near`, or `preferred` where that is free: one that nobody holds, no
 * DHCP server hands out, and that was not given before. Ask in an order that does not depend on how the plan is ordered.
 */
export function createFreeAddresses(
  owners: Owners,
): (vlan: Vlan | undefined, near: Address, preferred?: Address) => Address | undefined {
  const given = new Set<Address>();
  return (vlan, near, preferred) => {
    const subnet = vlan === undefined ? undefined : subnetFor(vlan, near);
    if (vlan === undefined || subnet === undefined) return undefined;
    const { first, last } = hostRange(subnet);
    const stated = [...gatewaysOf(vlan), ...(vlan.igmp?.queriers ?? []), ...(vlan.mld?.queriers ?? [])];
    const special = new Set(stated.map((one) => one.address));
    const free = (address: Address): boolean => {
      if (owners.byAddress.has(address) || given.has(address) || special.has(address)) return false;
      return vlan.dhcp === undefined || !inRange(address, vlan.dhcp);
    };
    if (preferred !== undefined && preferred >= first && preferred <= last && free(preferred)) {
      given.add(preferred);
      return preferred;
    }
    const inside = near >= first && near < last;
    for (const start of inside ? [next(near), first] : [first]) {
      let address = start;
      for (let tries = 0; tries < MOST_TRIES && address <= last; tries++, address = next(address)) {
        if (!free(address)) continue;
        given.add(address);
        return address;
      }
    }
    return undefined;
  };
}

function next(address: Address): Address {
  return typeof address === 'number' ? address + 1 : address + 1n;
}
