import type { FindingWords } from '../../../src/doors/rule.js';

export interface Facts {
  readonly gateway: string;
  readonly vlan: string;
  /** The one router of the VLAN, and its address there. */
  readonly router: string;
  readonly address: string;
}

export function words({ gateway, vlan, router, address }: Facts): FindingWords {
  return {
    what: `nobody has ${gateway}, the gateway of VLAN ${vlan}; its one router, ${router}, has ${address}`,
    onAir: 'boxes ask for a gateway that never answers: nothing they send leaves the VLAN, within it all works',
    fix: `write ${address} as the gateway, or give ${router} the address ${gateway}`,
  };
}
