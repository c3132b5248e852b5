import type { Address } from '../values/address.js';
import type { Mac } from '../values/mac.js';
import type { Interface, Plan, SwitchAddress } from '../plan/types.js';

export type Owner = Interface | SwitchAddress;

export interface Owners {
  /** Every interface and switch that holds an address, in plan order: devices first. */
  readonly byAddress: ReadonlyMap<Address, readonly Owner[]>;
  readonly byMac: ReadonlyMap<Mac, readonly Owner[]>;
}

/** Who holds which unicast address and which MAC. */
export function buildOwners(plan: Plan): Owners {
  const byAddress = new Map<Address, Owner[]>();
  const byMac = new Map<Mac, Owner[]>();
  const add = <K>(map: Map<K, Owner[]>, key: K | undefined, owner: Owner): void => {
    if (key === undefined) return;
    const list = map.get(key);
    if (list === undefined) map.set(key, [owner]);
    else list.push(owner);
  };
  for (const one of plan.interfaces) {
    add(byAddress, one.address, one);
    add(byAddress, one.address6, one);
    add(byMac, one.mac, one);
  }
  for (const one of plan.switches) {
    for (const held of one.addresses) {
      add(byAddress, held.address, held);
      add(byMac, held.mac, held);
    }
  }
  return { byAddress, byMac };
}

export function isInterface(owner: Owner): owner is Interface {
  return 'device' in owner;
}

/** `cam-1 red`, `switch core-red`. */
export function ownerLabel(owner: Owner): string {
  return isInterface(owner) ? `${owner.device.name} ${owner.name}` : `switch ${owner.switch.name}`;
}
