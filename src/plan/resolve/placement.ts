/** Which VLAN an address lies in, where a plan gives an address but no VLAN. */
import { append } from '../../collections/group-by.js';
import { networkOf, type Address } from '../../values/address.js';
import type { Rig, Vlan } from '../types.js';

export type VlanOfAddress = (rig: Rig, address: Address) => Vlan | undefined;

/** The VLAN whose subnet holds the address most narrowly; the rig's own first; undefined where two fit equally. */
export function vlanOfAddress(vlans: readonly Vlan[]): VlanOfAddress {
  const byLength = new Map<
    string,
    { readonly length: number; readonly family: string; readonly byNetwork: Map<Address, Vlan[]> }
  >();
  for (const vlan of vlans) {
    for (const subnet of [vlan.subnet, vlan.subnet6]) {
      if (subnet === undefined) continue;
      const family = typeof subnet.network;
      const key = `${family}/${subnet.length}`;
      let table = byLength.get(key);
      if (table === undefined) byLength.set(key, (table = { length: subnet.length, family, byNetwork: new Map() }));
      append(table.byNetwork, subnet.network, vlan);
    }
  }
  const tables = [...byLength.values()].sort((a, b) => b.length - a.length);
  return (rig, address) => {
    for (const table of tables) {
      if (table.family !== typeof address) continue;
      const found = table.byNetwork.get(networkOf(address, table.length));
      if (found === undefined) continue;
      const own = found.filter((vlan) => vlan.rig === rig);
      const fitting = own.length > 0 ? own : found;
      return fitting.length === 1 ? fitting[0] : undefined;
    }
    return undefined;
  };
}
