import type { FindingWords } from '../../../src/doors/rule.js';

export interface Facts {
  readonly network: string;
}

export function words({ network }: Facts): FindingWords<never> {
  return {
    what: `nothing in the plan is on network ${network}: no VLAN, host or stream`,
    onAir: 'nothing by itself; where a VLAN should name the network and does not, rules on red and blue do not see it',
    fix: 'name it in the VLANs that belong to it, or take it out',
  };
}
