import { agree, type FindingWords, type HeldFact, type Vlan } from '../../../src/doors/rule.js';
import { heldWords } from '../../../src/doors/hosts.js';

export interface Facts {
  readonly held: readonly HeldFact[];
  /** The VLAN whose subnet is public, as its addresses are. */
  readonly whole: { readonly vlan: Vlan; readonly subnet: string } | undefined;
}

export function words({ held, whole }: Facts): FindingWords<'public'> {
  const who = heldWords(held);
  return {
    what:
      whole === undefined
        ? `${who} ${agree(held.length, 'is a public address', 'are public addresses')} that the conventions do not hold`
        : `VLAN ${whole.vlan.name} uses public addresses, ${whole.subnet}, that the conventions do not hold: ${who}`,
    onAir:
      'nothing inside the rig; over a circuit or the internet the true holder of the address cannot be reached, and answers to the box go there',
    fix: 'use private addresses, or write the block under `conventions: {prefixes: …}` if it is yours',
    label: (name) => `${name}: public`,
  };
}
