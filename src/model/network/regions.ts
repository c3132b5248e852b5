/**
 * Switches that run MSTP as one region: each instance then has a tree of its own over all links, whatever VLANs they carry
 * (IEEE 802.1Q-2022 §13, from memory). Name and revision of the region are taken to be equal where the instances are.
 */
import type { Switch, Vlan } from '../../plan/types.js';

/** What a VLAN is known by to the region: its number on the wire. */
export function vlanKey({ id, name, rig }: Vlan): number | string {
  return id ?? `${rig.name} ${name}`;
}

/** The instance of each VLAN that is in one other than 0; undefined where the switches are no region, or not stated to be. */
export function regionOf(switches: readonly Switch[]): ReadonlyMap<number | string, number> | undefined {
  const [first, ...others] = switches.map(mappingOf);
  if (first === undefined) return undefined;
  const isSame = (other: typeof first | undefined): boolean =>
    other?.size === first.size && [...first].every(([key, number]) => other.get(key) === number);
  return others.every(isSame) ? first : undefined;
}

/** Undefined where the switch states none, or one VLAN or number twice. */
function mappingOf({ spanningTree: own }: Switch): ReadonlyMap<number | string, number> | undefined {
  if (own?.mode !== 'mstp' || own.instances === undefined) return undefined;
  const keys = own.instances.flatMap(({ number, vlans }) => vlans.map((vlan) => [vlanKey(vlan), number] as const));
  const mapping = new Map(keys);
  const numbers = new Set(own.instances.map(({ number }) => number));
  return mapping.size === keys.length && numbers.size === own.instances.length ? mapping : undefined;
}

/** What a switch is stated to have for a priority in one instance other than 0. */
export function instancePriority({ spanningTree: own }: Switch, number: number): number | undefined {
  return own?.instances?.find((instance) => instance.number === number)?.priority;
}
