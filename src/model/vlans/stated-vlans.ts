/** On which switches the plan itself puts VLANs, before anything is followed over links. */
import type { Plan, Port, Switch, Vlan } from '../../plan/types.js';

/** Where the plan itself puts VLANs; gathered once, for several steps look at every port and interface. */
export interface StatedVlans {
  /** On a switch by its ports and addresses. */
  readonly on: (one: Switch) => ReadonlySet<Vlan>;
  /** By interfaces that are not simply in the access VLAN of their port: these alone tell more than the switches do. */
  readonly patched: readonly (readonly [Port, Vlan])[];
}

export function statedVlans(plan: Plan): StatedVlans {
  const bySwitch = new Map(plan.switches.map((one) => [one, vlansOn(one)]));
  const patched: (readonly [Port, Vlan])[] = [];
  for (const { vlan, port } of plan.interfaces) {
    if (vlan !== undefined && port !== undefined && port.access !== vlan) patched.push([port, vlan]);
  }
  return { on: (one) => bySwitch.get(one) ?? vlansOn(one), patched };
}

/** VLANs the plan itself puts on a switch: on its ports and its addresses. */
function vlansOn(one: Switch): ReadonlySet<Vlan> {
  const found = new Set<Vlan>();
  let access: Vlan | undefined; // mostly that of the port before
  for (const port of one.ports.values()) {
    if (port.access !== undefined && port.access !== access) found.add((access = port.access));
    if (port.native !== undefined) found.add(port.native);
    if (port.trunk !== undefined && port.trunk !== 'all') for (const vlan of port.trunk) found.add(vlan);
  }
  // The network of a routed link is on that link alone, whatever trunks its switch has.
  for (const { vlan } of one.addresses) if (vlan !== undefined && vlan.transit === undefined) found.add(vlan);
  return found;
}
