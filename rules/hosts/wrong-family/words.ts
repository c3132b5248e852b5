import type { FindingWords, HeldFact } from '../../../src/doors/rule.js';

export interface Facts extends HeldFact {
  readonly family: 'IPv4' | 'IPv6';
  /** Where it stands, and where it belongs. */
  readonly key: 'address' | 'address6';
  readonly rightKey: 'address' | 'address6';
}

export function words({ address, holder, family, key, rightKey }: Facts): FindingWords<'right-key'> {
  return {
    what: `${address} of ${holder} is an ${family} address, but stands under \`${key}\``,
    onAir: 'nothing; every rule judges the address by what it is, yet whoever looks for it finds the wrong family',
    fix: `write it under \`${rightKey}\``,
    label: (name) => `${name}: belongs under \`${rightKey}\``,
  };
}
