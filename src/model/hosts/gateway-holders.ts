/** Who has the gateway of a VLAN, as far as the plan says who routes there. */
import { areSeveral, type Several } from '../../collections/non-empty.js';
import type { Device, Plan, Switch, Vlan } from '../../plan/types.js';
import { formatAddress, inPrefix, type Address } from '../../values/address.js';
import { otherEntries, sharedVlans, type SharedFacts } from '../vlans/index.js';
import { gatewaysOf, subnetFor, type Addressing, type Held, type StatedGateway } from './addressing.js';
import { isInterface } from './owners.js';

/** A gateway inside the subnet of its VLAN that nobody in the plan has. */
export interface UnheldGateway extends StatedGateway {
  readonly vlan: Vlan;
  /**
   * The addresses of the boxes that the plan says route there: one, or several, which may share a virtual address. Empty
   * where it does not say who routes, or not with which address: the gateway may be that of a router it leaves out.
   */
  readonly routers: readonly [Held] | Several<Held> | readonly [];
}

/** In the order of the VLANs. VLANs that several entries share are asked in all of them. */
export function unheldGateways({ plan, domains, addressing }: GatewayGround): readonly UnheldGateway[] {
  const othersOf = otherEntries(sharedVlans({ vlans: plan.vlans, domains }));
  return plan.vlans.flatMap((vlan) =>
    gatewaysOf(vlan).flatMap((gateway): readonly UnheldGateway[] => {
      const subnet = subnetFor(vlan, gateway.address);
      if (subnet === undefined || !inPrefix(gateway.address, subnet)) return [];
      const others = othersOf(vlan);
      const held = [vlan, ...others].flatMap((one) => addressing.byVlan.get(one) ?? []);
      if (held.some(({ address }) => address === gateway.address)) return [];
      return [{ ...gateway, vlan, routers: others.length > 0 ? [] : routersIn(plan, vlan, gateway.address, held) }];
    }),
  );
}

export interface GatewayGround extends Pick<SharedFacts, 'domains'> {
  readonly plan: Plan;
  readonly addressing: Addressing;
}

/** The lowest address of each router; none where one of them has no address in the plan. */
function routersIn(plan: Plan, vlan: Vlan, gateway: Address, held: readonly Held[]): UnheldGateway['routers'] {
  const subnet = subnetFor(vlan, gateway);
  const boxes = new Set<Device | Switch>([
    ...(vlan.routing?.routers ?? []),
    ...plan.devices.filter((one) => one.routes && one.interfaces.some((its) => its.vlan === vlan)),
  ]);
  const routers: Held[] = [];
  for (const box of boxes) {
    const its = held.filter(
      ({ owner, address }) =>
        (isInterface(owner) ? owner.device : owner.switch) === box && subnet !== undefined && inPrefix(address, subnet),
    );
    const [first] = [...its].sort((a, b) => (formatAddress(a.address) < formatAddress(b.address) ? -1 : 1));
    if (first === undefined) return [];
    routers.push(first);
  }
  const [one, ...more] = routers;
  if (one === undefined) return [];
  return more.length === 0 ? [one] : areSeveral(routers) ? routers : [];
}
