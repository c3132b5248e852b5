import type { FindingWords, Network } from '../../../src/lint/rule.js';

export interface Facts {
  readonly network: Network;
}

export function words({ network }: Facts): FindingWords {
  return {
    what: `nothing in the plan is on network ${network.name}: no VLAN, host or stream`,
    onAir: 'nothing by itself; where a VLAN should name the network and does not, rules on red and blue do not see it',
    fix: 'name it in the VLANs that belong to it, or take it out',
  };
}
