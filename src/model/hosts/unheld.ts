/** Addresses among hosts that are all known, which none of them has. */
import type { Leg, Plan, Rig, Vlan } from '../../plan/types.js';
import { vlanOfAddress } from '../../plan/resolve/placement.js';
import { type Address, inRange, isIPv4 } from '../../values/address.js';
import { addressOf } from './own-subnet.js';
import type { Owners } from './owners.js';

/**
 * The VLAN in whose subnet an address lies that nothing in the plan has; undefined where somebody may have it: it lies
 * in no subnet of the plan, in a DHCP range, or where hosts are on DHCP or have no address in the plan.
 */
export function createUnheld(plan: Plan, owners: Owners): (rig: Rig, address: Address) => Vlan | undefined {
  const vlanOf = vlanOfAddress(plan.vlans);
  const peopled = new Set<Vlan>();
  const open = new Set<Vlan>();
  for (const { vlan, address, address6, dhcp } of plan.interfaces) {
    if (vlan === undefined) continue;
    if (address !== undefined || address6 !== undefined) peopled.add(vlan);
    if (dhcp && address === undefined && vlan.dhcp === undefined) open.add(vlan);
  }
  return (rig, address) => {
    if (owners.byAddress.has(address)) return undefined;
    const vlan = vlanOf(rig, address);
    if (vlan === undefined || !peopled.has(vlan) || open.has(vlan)) return undefined;
    return vlan.dhcp !== undefined && inRange(address, vlan.dhcp) ? undefined : vlan;
  };
}

/** Legs to one address that a receiver takes of which the plan states no address of that family. */
export function takenWithoutAddress({ receiverLegs }: Plan): ReadonlySet<Leg> {
  const found = new Set<Leg>();
  for (const { takes, interface: via } of receiverLegs) {
    if (takes?.unicast === undefined || via === undefined) continue;
    if (addressOf(via, isIPv4(takes.unicast)) === undefined) found.add(takes);
  }
  return found;
}
