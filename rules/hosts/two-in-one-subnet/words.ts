import { listNames, type Device, type FindingWords, type Vlan } from '../../../src/doors/rule.js';

export interface Facts {
  readonly device: Device;
  /** Names of two or more. */
  readonly interfaces: readonly string[];
  /** What they are in together; absent where several VLANs and subnets hang together. */
  readonly where: { readonly vlan: Vlan } | { readonly subnet: string } | undefined;
  /** What the network is for: streams, something else, or nothing says what. */
  readonly use: 'media' | 'control' | 'unsaid';
  /** Redundant streams with their legs on several of the interfaces. */
  readonly pairs: readonly string[];
}

export function words({ device, interfaces, where, use, pairs }: Facts): FindingWords<'move'> {
  const place = where === undefined ? 'one subnet' : 'vlan' in where ? `VLAN ${where.vlan.name}` : where.subnet;
  return {
    what: `interfaces ${listNames(interfaces)} of ${device.name} are ${interfaces.length === 2 ? 'both' : 'all'} in ${place}`,
    onAir:
      pairs.length > 0
        ? `both legs of ${listNames(pairs)} are in one network: one failure there takes both, though they are planned as a pair`
        : `the device asks for a group on one interface and may drop what comes in on the other, or sends everything out of one: no picture, and it changes with every restart${use === 'unsaid' ? '. That it is no media network, where several links are usual, is assumed' : ''}`,
    fix:
      pairs.length > 0
        ? 'give the interface of the second leg the VLAN and subnet of the other network'
        : 'give each interface a VLAN and subnet of its own; where they are one bonded pair, state the same `bond` on each',
    label: (name) => `${name}: put this one into another subnet`,
  };
}
