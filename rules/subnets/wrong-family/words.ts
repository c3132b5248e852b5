import type { FindingWords, Vlan } from '../../../src/doors/rule.js';

export interface Facts {
  readonly vlan: Vlan;
  /** A subnet or an address. */
  readonly value: string;
  readonly family: 'IPv4' | 'IPv6';
  /** Where it stands, and where it belongs. */
  readonly key: string;
  readonly rightKey: string;
}

/** The mark is noted with the right key. */
export function words({ vlan, value, family, key, rightKey }: Facts): FindingWords<string> {
  return {
    what: `${value} of VLAN ${vlan.name} is ${family}, but stands under \`${key}\``,
    onAir: 'nothing; every rule judges it by what it is, yet whoever looks for it finds the wrong family',
    fix: `write it under \`${rightKey}\``,
    label: (name, right) => `${name}: belongs under \`${right}\``,
  };
}
