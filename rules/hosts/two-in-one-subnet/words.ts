import { listNames, type Device, type FindingWords, type Vlan } from '../../../src/doors/rule.js';

export interface Facts {
  readonly device: Device;
  /** Names of two or more. */
  readonly interfaces: readonly string[];
  /** What they are in together; absent where several VLANs and subnets hang together. */
  readonly where: { readonly vlan: Vlan } | { readonly subnet: string } | undefined;
}

export function words({ device, interfaces, where }: Facts): FindingWords<'move'> {
  const place = where === undefined ? 'one subnet' : 'vlan' in where ? `VLAN ${where.vlan.name}` : where.subnet;
  return {
    what: `interfaces ${listNames(interfaces)} of ${device.name} are ${interfaces.length === 2 ? 'both' : 'all'} in ${place}`,
    onAir:
      'the device asks for a group on one interface and may drop what comes in on the other, or sends both legs out of one: no picture or no redundancy, and it changes with every restart',
    fix: 'give each interface a VLAN and subnet of its own; where they are one bonded pair, write them as one interface',
    label: (name) => `${name}: put this one into another subnet`,
  };
}
