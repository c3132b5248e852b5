/**
 * Which VLANs unicast packets can pass between, as far as a plan tells: it states multicast routing, gateways, links and
 * routing devices, but no unicast routes. Two VLANs count as joined when a link ties them together, when multicast is
 * routed between them, when one box holds the gateways of both, or when both have a gateway that nobody in the plan
 * holds, for then one router of the rig is likely to be both.
 */
import type { Plan, Rig, Vlan } from '../../plan/types.js';
import type { Domains } from '../vlans/index.js';
import { forwards, gatewaysOf } from './addressing.js';
import { isInterface, type Owners } from './owners.js';
import { UnionFind } from '../../collections/union-find.js';

export interface UnicastReach {
  /** Equal for two VLANs that unicast packets can pass between. */
  readonly joined: (vlan: Vlan) => object;
  /** Equal for two entries that links make one VLAN. */
  readonly wire: (vlan: Vlan) => object;
}

export function buildUnicastReach(plan: Plan, domains: Domains, owners: Owners): UnicastReach {
  const wire = new UnionFind<object>();
  const joined = new UnionFind<object>();
  const unseen = new Map<Rig, object>();
  const unseenRouter = (rig: Rig): object => {
    const known = unseen.get(rig) ?? {};
    unseen.set(rig, known);
    return known;
  };
  for (const {
    vlans: [a, b],
  } of domains.joins) {
    wire.union(a, b);
    joined.union(a, b);
  }
  // Unicast crosses a routed link whether multicast does or not.
  for (const transit of plan.transits)
    for (const router of transit.routing?.routers ?? []) joined.union(router, transit);
  for (const vlan of plan.vlans) {
    joined.union(domains.reach({ vlan, network: vlan.network }), vlan);
    for (const { address } of gatewaysOf(vlan)) {
      const holders = (owners.byAddress.get(address) ?? []).filter((owner) => owner.vlan === vlan && forwards(owner));
      if (holders.length === 0) joined.union(unseenRouter(vlan.rig), vlan);
      for (const owner of holders) joined.union(isInterface(owner) ? owner.device : owner.switch, vlan);
    }
  }
  for (const device of plan.devices) {
    if (!device.routes) continue;
    for (const one of device.interfaces) if (one.vlan !== undefined) joined.union(device, one.vlan);
  }
  return { joined: (vlan) => joined.find(vlan), wire: (vlan) => wire.find(vlan) };
}
