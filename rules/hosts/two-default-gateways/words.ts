import { listNames, type Device, type FindingWords } from '../../../src/doors/rule.js';

export interface Facts {
  readonly device: Device;
  /** Two or more of one family. */
  readonly gateways: readonly { readonly gateway: string; readonly interface: string }[];
}

export function words({ device, gateways }: Facts): FindingWords<'doubt'> {
  const names = gateways.map((one) => `${one.gateway} on ${one.interface}`);
  return {
    what: `${device.name} has ${gateways.length} gateways: ${listNames(names)}`,
    onAir:
      'what leaves the subnet takes either way, and answers come back the other: control from outside works until a restart, then does not',
    fix: 'keep the gateway of the interface that is controlled from outside, most often the control one, and leave it out at the others',
    label: (name) => `${name}: does this interface need a gateway?`,
  };
}
