import type { FindingWords, Vlan } from '../../../src/doors/rule.js';

export interface Facts {
  readonly vlan: Vlan;
  readonly range: string;
  readonly subnet: string;
  /** Addresses of the subnet that no host may have and the range holds; empty where it reaches beyond the subnet. */
  readonly ends: readonly ('network' | 'broadcast')[];
  /** The part of the range that hosts may have. */
  readonly within: string | undefined;
  /** All host addresses of the subnet. */
  readonly hosts: string;
}

export function words({ vlan, range, subnet, ends, within, hosts }: Facts): FindingWords<'range' | 'subnet'> {
  const outside = ends.length === 0;
  const fault = outside
    ? `${within === undefined ? 'all of it' : 'part of it'} outside ${subnet}`
    : `with the ${ends.join(' and ')} address of ${subnet}`;
  return {
    what: `DHCP in VLAN ${vlan.name} hands out ${range}, ${fault}`,
    onAir: outside
      ? 'boxes that get such an address reach nothing in their VLAN, or the server refuses to start'
      : 'the box that gets such an address refuses it and stays without one; many servers leave the address out by themselves',
    fix: within === undefined ? `write a range inside ${hosts}` : `write ${within}`,
    label: (name, key) => `${name}: ${key}`,
  };
}
