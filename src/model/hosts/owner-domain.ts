/** Where an owner of an address stands on the network. */
import { addTo } from '../../collections/group-by.js';
import type { Device, Switch } from '../../plan/types.js';
import type { Domain, Domains } from '../vlans/index.js';
import { isInterface, type Owner } from './owners.js';

/** True when the plan gives neither VLAN nor network: it may stand anywhere. */
export function standsNowhere(owner: Owner): boolean {
  return owner.vlan === undefined && (!isInterface(owner) || owner.network === undefined);
}

/**
 * True when the owners are entries of one name in one rig: a box written twice, or as a switch and as a device, which is
 * a fault of names at most.
 */
export function oneBoxWrittenTwice(owners: readonly Owner[]): boolean {
  const boxes = new Set(owners.map(boxOf));
  const names = new Set([...boxes].map((box) => box.name));
  const rigs = new Set([...boxes].map((box) => box.rig));
  return boxes.size > 1 && names.size === 1 && rigs.size === 1;
}

/** One of each set of owners that are members of one bond: one interface to the network, with one address and one MAC. */
export function firstOfBonds<T extends Owner>(owners: readonly T[]): readonly T[] {
  if (!owners.some((owner) => isInterface(owner) && owner.bond !== undefined)) return owners;
  const seen = new Map<Device, Set<string>>();
  return owners.filter((owner) => {
    if (!isInterface(owner) || owner.bond === undefined) return true;
    const again = seen.get(owner.device)?.has(owner.bond) === true;
    addTo(seen, owner.device, owner.bond);
    return !again;
  });
}

function boxOf(owner: Owner): Device | Switch {
  return isInterface(owner) ? owner.device : owner.switch;
}

/** Switched domain of an owner; for a switch, of the VLAN on that switch. Not for owners that stand nowhere. */
export function domainOfOwner(owner: Owner, domains: Domains): Domain {
  const { vlan } = owner;
  if (isInterface(owner)) return domains.switched({ interface: owner, vlan, network: owner.network });
  const onSwitch = vlan === undefined ? undefined : domains.onSwitch(owner.switch, vlan);
  return onSwitch ?? domains.switched({ vlan, network: vlan?.network });
}
