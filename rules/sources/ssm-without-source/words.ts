import { agree, listNames, nothingOf, type FindingWords, type Sender } from '../../../src/doors/rule.js';

/** Why a leg has no source: neither source nor interface, an address DHCP hands out, or an interface without one. */
export type MissingSource =
  | { readonly why: 'no-interface' }
  | { readonly why: 'dhcp'; readonly via: string }
  | { readonly why: 'no-address'; readonly via: string; readonly family: 'IPv4' | 'IPv6' };

export interface Facts {
  readonly sender: Sender;
  readonly groups: readonly string[];
  /** Leg by leg. */
  readonly missing: readonly MissingSource[];
}

export function words({ sender, groups, missing }: Facts): FindingWords<'no-source'> {
  const reasons = [...new Set(missing.map(reason))];
  const handedOut = missing.every(({ why }) => why === 'dhcp');
  const groupWords = `${agree(groups.length, 'group')} ${listNames(groups)}`;
  return {
    what: `${sender.label} sends to source-specific ${groupWords}, but no source address is known: ${reasons.join('; ')}`,
    onAir: handedOut
      ? `receivers have to be told the address of the day, by SDP or by hand: one that joins with an older address gets ${nothingOf([sender])}`
      : `a receiver must name the source when it joins such a group: without it there is ${nothingOf([sender])} at all, from the first take on`,
    fix: handedOut
      ? 'reserve an address at the DHCP server and write it as `address` of the interface, so that it stays the same'
      : 'write the address it sends from, as `address` of the interface or as `source` of the leg, and have receivers join with it',
    label: (name) => `${name}: has no source`,
  };
}

function reason(one: MissingSource): string {
  switch (one.why) {
    case 'no-interface':
      return 'the leg names neither source nor interface';
    case 'dhcp':
      return `interface ${one.via} takes whatever address DHCP hands out`;
    case 'no-address':
      return `interface ${one.via} has no ${one.family} address`;
  }
}
