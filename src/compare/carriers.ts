/** Which switches carry which VLAN, and which network a whole box belongs to. */
import { addTo } from '../collections/group-by.js';
import type { Device, Network, Plan, Port, Switch, Vlan } from '../plan/types.js';

/** Switches that name a VLAN on a port or hold an address in it. A port that carries everything names nothing. */
export function carriersOf({ switches }: Plan): ReadonlyMap<Vlan, ReadonlySet<Switch>> {
  const carriers = new Map<Vlan, Set<Switch>>();
  const add = (vlan: Vlan | undefined, on: Switch): void => {
    if (vlan === undefined) return;
    addTo(carriers, vlan, on);
  };
  for (const one of switches) {
    for (const port of one.ports.values()) for (const vlan of vlansOf(port)) add(vlan, one);
    for (const { vlan } of one.addresses) add(vlan, one);
  }
  return carriers;
}

/** The network all VLANs of a port are on. */
export function networkOfPort(port: Port): Network | undefined {
  return onlyNetwork(vlansOf(port));
}

/** The network all VLANs of a switch are on. */
export function networkOfSwitch({ ports, addresses }: Switch): Network | undefined {
  return onlyNetwork([
    ...[...ports.values()].flatMap(vlansOf).filter(notManagement),
    ...addresses.flatMap(({ vlan }) => vlan ?? []).filter(notManagement),
  ]);
}

/** The network of a device's first leg, where it has one. */
export function networkOfDevice({ interfaces }: Device): Network | undefined {
  let first: Network | undefined;
  for (const { network } of interfaces) {
    if (network === undefined) continue;
    if (first === undefined || (network.leg ?? Infinity) < (first.leg ?? Infinity)) first = network;
  }
  return first;
}

function vlansOf({ access, trunk, native }: Port): readonly Vlan[] {
  const tagged = trunk === undefined || trunk === 'all' ? [] : trunk;
  return [...(access === undefined ? [] : [access]), ...tagged, ...(native === undefined ? [] : [native])];
}

/** A switch is reached on management; what it carries is the rest. */
function notManagement({ network }: Vlan): boolean {
  return network?.role !== 'management' && network?.role !== 'control';
}

function onlyNetwork(vlans: readonly Vlan[]): Network | undefined {
  const networks = new Set(vlans.map(({ network }) => network));
  const [only] = networks;
  return networks.size === 1 ? only : undefined;
}
