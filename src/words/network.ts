/** Words for parts of the network. */
import type { Element, PlaceFact } from '../model/network/index.js';
import type { Vlan } from '../plan/types.js';

/** `switch red-core`. */
export function elementWords({ kind, name }: Pick<Element, 'kind' | 'name'>): string {
  return `${kind} ${name}`;
}

/** `red-video (210)`. */
export function vlanWords(vlan: Vlan): string {
  if (vlan.transit !== undefined) return `the routed link ${vlan.name}`;
  return vlan.id === undefined ? vlan.name : `${vlan.name} (${vlan.id})`;
}

/** What to write so that a place is known. */
export function writePlace(lacks: PlaceFact): string {
  switch (lacks) {
    case 'interface':
      return 'name the `interface` of each leg';
    case 'VLAN':
      return 'give the interface a `vlan`';
    case 'switch port':
      return 'give the interface a `port` that carries its VLAN: `leaf-a/12`';
  }
}
