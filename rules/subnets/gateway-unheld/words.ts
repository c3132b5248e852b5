import { listNames, type FindingWords, type HeldFact, type NonEmpty } from '../../../src/doors/rule.js';

export interface Facts {
  readonly gateway: string;
  readonly vlan: string;
  /** All routers of the VLAN, each with an address there. */
  readonly routers: NonEmpty<HeldFact>;
}

const LOST = 'boxes ask for a gateway that never answers: nothing they send leaves the VLAN, within it all works';

export function words({ gateway, vlan, routers }: Facts): FindingWords {
  const [{ address, holder }, ...more] = routers;
  if (more.length === 0)
    return {
      what: `nobody has ${gateway}, the gateway of VLAN ${vlan}; its one router, ${holder}, has ${address}`,
      onAir: LOST,
      fix: `write ${address} as the gateway, or give ${holder} the address ${gateway}`,
    };
  const each = routers.map((one) => `${one.holder} (${one.address})`);
  return {
    what: `nobody has ${gateway}, the gateway of VLAN ${vlan}, none of its routers ${listNames(each)} either`,
    onAir: `unless they share it as a virtual address, ${LOST}`,
    fix: `write the address of one of them as the gateway; where they share ${gateway}, write it down at each of them, with its one MAC`,
  };
}
