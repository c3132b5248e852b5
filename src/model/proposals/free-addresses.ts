/** Addresses nobody uses, for suggestions. */
import { inRange, type Address, type AddressRange, type Prefix } from '../../values/address.js';
import type { Vlan } from '../../plan/types.js';
import { gatewaysOf, hostRange, type Owners, subnetFor } from '../hosts/index.js';

/** Looking further would make a plan full of faults slow. */
const MOST_TRIES = 512;

export interface FreeAddresses {
  /**
   * The next address of the VLAN's subnet after `near`, or `preferred` where that is free: one that nobody holds, no DHCP
   * server hands out, and that was not given before. Ask in an order that does not depend on how the plan is ordered.
   */
  readonly next: (vlan: Vlan | undefined, near: Address, preferred?: Address) => Address | undefined;
  /** Whether an address was given. */
  readonly isGiven: (address: Address) => boolean;
}

/** Where an address is looked for in a subnet, and from where on: what was taken stays so. */
interface Field {
  readonly range: AddressRange;
  readonly special: ReadonlySet<Address | undefined>;
  readonly pools: readonly AddressRange[];
  lowest: Address;
}

/** `joined`: entries that are one VLAN, so that what one of them sets aside is not free in the others. */
export function createFreeAddresses(owners: Owners, joined: readonly (readonly Vlan[])[] = []): FreeAddresses {
  const given = new Set<Address>();
  const classOf = new Map(joined.flatMap((vlans) => vlans.map((vlan) => [vlan, vlans] as const)));
  const fields = new Map<Prefix, Field>();
  const fieldOf = (vlan: Vlan, subnet: Prefix): Field => {
    let field = fields.get(subnet);
    if (field === undefined) {
      const entries = classOf.get(vlan) ?? [vlan];
      const range = hostRange(subnet);
      const pools = entries.flatMap(({ dhcp }) => dhcp ?? []);
      field = { range, special: new Set(entries.flatMap(statedAddresses)), pools, lowest: range.first };
      fields.set(subnet, field);
    }
    return field;
  };
  const next = (vlan: Vlan | undefined, near: Address, preferred?: Address): Address | undefined => {
    const subnet = vlan === undefined ? undefined : subnetFor(vlan, near);
    if (vlan === undefined || subnet === undefined) return undefined;
    const field = fieldOf(vlan, subnet);
    const { first, last } = field.range;
    const free = (address: Address): boolean =>
      !owners.byAddress.has(address) &&
      !given.has(address) &&
      !field.special.has(address) &&
      !field.pools.some((pool) => inRange(address, pool));
    if (preferred !== undefined && preferred >= first && preferred <= last && free(preferred)) {
      given.add(preferred);
      return preferred;
    }
    if (near >= first && near < last) {
      let address = after(near);
      for (let tries = 0; tries < MOST_TRIES && address <= last; tries++, address = after(address)) {
        if (!free(address)) continue;
        given.add(address);
        return address;
      }
    }
    for (let tries = 0; tries < MOST_TRIES && field.lowest <= last; tries++, field.lowest = after(field.lowest)) {
      if (!free(field.lowest)) continue;
      given.add(field.lowest);
      return field.lowest;
    }
    return undefined;
  };
  return { next, isGiven: (address) => given.has(address) };
}

function statedAddresses(vlan: Vlan): readonly (Address | undefined)[] {
  const stated = [...gatewaysOf(vlan), ...(vlan.igmp?.queriers ?? []), ...(vlan.mld?.queriers ?? [])];
  return stated.map((one) => one.address);
}

function after(address: Address): Address {
  return typeof address === 'number' ? address + 1 : address + 1n;
}
