import { agree, listNames, type Device, type FindingWords } from '../../../src/doors/rule.js';

export type Family = 'IPv4' | 'IPv6';

export interface Facts {
  /** All that have these gateways. */
  readonly devices: readonly Device[];
  readonly family: Family;
  /** `10.20.10.1 on red`, or the gateway alone where the devices call their interfaces differently. */
  readonly ways: readonly string[];
}

export function words({ devices, family, ways }: Facts): FindingWords<'doubt'> {
  const names = listNames(devices.map(({ name }) => name));
  return {
    what: `${names} ${agree(devices.length, 'has', 'each have')} more than one ${family} gateway: ${listNames(ways)}`,
    onAir:
      'what leaves the subnet takes either path, and answers come back by the other: control from outside works until a restart, then does not',
    fix: 'keep the gateway of the interface that is controlled from outside, most often the control one, and leave it out at the others',
    label: (name) => `${name}: does this interface need a gateway?`,
  };
}
