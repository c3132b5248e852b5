/** Addresses nobody uses, for suggestions. */
import { inRange, type Address } from '../../values/address.js';
import type { Vlan } from '../../plan/types.js';
import { gatewaysOf, hostRange, type Owners, subnetFor } from '../hosts/index.js';

/** Looking further would make a plan full of faults slow. */
const MOST_TRIES = 512;

/**
 * Gives the next address of the VLAN's subnet after `near`, or `preferred` where that is free: one that nobody holds, no
 * DHCP server hands out, and that was not given before. Ask in an order that does not depend on how the plan is ordered.
 * `joined`: entries that are one VLAN, so that what one of them sets aside is not free in the others.
 */
export function createFreeAddresses(
  owners: Owners,
  joined: readonly (readonly Vlan[])[] = [],
): (vlan: Vlan | undefined, near: Address, preferred?: Address) => Address | undefined {
  const given = new Set<Address>();
  const classOf = new Map(joined.flatMap((vlans) => vlans.map((vlan) => [vlan, vlans] as const)));
  return (vlan, near, preferred) => {
    const subnet = vlan === undefined ? undefined : subnetFor(vlan, near);
    if (vlan === undefined || subnet === undefined) return undefined;
    const { first, last } = hostRange(subnet);
    const entries = classOf.get(vlan) ?? [vlan];
    const special = new Set(entries.flatMap(statedAddresses));
    const free = (address: Address): boolean => {
      if (owners.byAddress.has(address) || given.has(address) || special.has(address)) return false;
      return entries.every(({ dhcp }) => dhcp === undefined || !inRange(address, dhcp));
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

function statedAddresses(vlan: Vlan): readonly (Address | undefined)[] {
  const stated = [...gatewaysOf(vlan), ...(vlan.igmp?.queriers ?? []), ...(vlan.mld?.queriers ?? [])];
  return stated.map((one) => one.address);
}

function next(address: Address): Address {
  return typeof address === 'number' ? address + 1 : address + 1n;
}
