/** What was assumed where a plan is silent, of streams, gateways and clocks. */
import { unheldGateways } from '../model/hosts/index.js';
import type { Model } from '../model/model.js';
import { type Assumption, findAssumptions } from '../model/network/index.js';
import { clockFacts, untimedNetworks } from '../model/timing/index.js';

export function assumed(model: Model): readonly Assumption[] {
  const { plan, groupSegments, network, groups, routedReceptions } = model;
  const found = findAssumptions(plan, groupSegments, network, groups, routedReceptions);
  const abroad = new Set(unheldGateways(model).flatMap(({ vlan, routers: [known] }) => (known ? [] : [vlan.name])));
  const untimed = untimedNetworks(clockFacts(plan)).map(({ domain, networks }): Assumption => ({
    fact: 'ptpNetworks',
    domain,
    networks: networks.map(({ name }) => name),
  }));
  return [...found, ...(abroad.size === 0 ? [] : [{ fact: 'gateway', vlans: [...abroad] } as const]), ...untimed];
}
