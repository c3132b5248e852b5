import type { FindingWords } from '../../../src/doors/rule.js';

export interface Facts {
  readonly vlan: string;
}

export function words({ vlan }: Facts): FindingWords<never> {
  return {
    what: `nothing in the plan is in VLAN ${vlan}: no host, stream, port, link or switch address`,
    onAir: 'nothing; but its id and subnet look taken, and somebody may build on a VLAN that no trunk carries',
    fix: 'take it out, or name it where it is used',
  };
}
