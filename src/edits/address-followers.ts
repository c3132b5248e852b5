/** Who states an address besides its holder, made once for all cures of a plan: a cure asks only what its addresses concern. */
import { append } from '../collections/group-by.js';
import type { Model } from '../model/model.js';
import type { Interface, Leg, Plan, Querier, ReceiverLeg, RendezvousPoint, Vlan } from '../plan/types.js';
import type { Address } from '../values/address.js';

export interface AddressFollowers {
  /** Legs that leave by an interface and have a source. */
  readonly legs: ReadonlyMap<Interface, readonly Leg[]>;
  /** Legs of descriptions that have the source of the leg they describe, by the interface that one leaves by. */
  readonly described: ReadonlyMap<Interface, readonly Leg[]>;
  /** Receiver legs that state a source, by the interface of the leg they take. */
  readonly receivers: ReadonlyMap<Interface, readonly ReceiverLeg[]>;
  /** Legs sent to one address. */
  readonly unicast: ReadonlyMap<Address, readonly Leg[]>;
  readonly queriers: ReadonlyMap<Address, readonly { readonly querier: Querier; readonly vlan: Vlan }[]>;
  readonly points: ReadonlyMap<Address, readonly { readonly point: RendezvousPoint; readonly vlan: Vlan }[]>;
  readonly gateways: ReadonlyMap<Address, readonly { readonly vlan: Vlan; readonly key: 'gateway' | 'gateway6' }[]>;
  /** Interfaces that have their own gateway, by its address. */
  readonly ownGateways: ReadonlyMap<Address, readonly Interface[]>;
}

const KNOWN = new WeakMap<Plan, AddressFollowers>();

export function addressFollowersIn({ plan }: Pick<Model, 'plan'>): AddressFollowers {
  let known = KNOWN.get(plan);
  if (known === undefined) KNOWN.set(plan, (known = build(plan)));
  return known;
}

function build(plan: Plan): AddressFollowers {
  const legs = new Map<Interface, Leg[]>();
  const described = new Map<Interface, Leg[]>();
  const receivers = new Map<Interface, ReceiverLeg[]>();
  const unicast = new Map<Address, Leg[]>();
  const queriers = new Map<Address, { readonly querier: Querier; readonly vlan: Vlan }[]>();
  const points = new Map<Address, { readonly point: RendezvousPoint; readonly vlan: Vlan }[]>();
  const gateways = new Map<Address, { readonly vlan: Vlan; readonly key: 'gateway' | 'gateway6' }[]>();
  const ownGateways = new Map<Address, Interface[]>();
  for (const leg of plan.legs) {
    if (leg.interface !== undefined && leg.source !== undefined) append(legs, leg.interface, leg);
    if (leg.unicast !== undefined) append(unicast, leg.unicast, leg);
  }
  for (const { sender, of } of plan.descriptions) {
    for (const leg of sender.legs) {
      const twin = of.legs[leg.index];
      if (twin?.interface !== undefined && twin.source !== undefined && twin.source === leg.source)
        append(described, twin.interface, leg);
    }
  }
  for (const leg of plan.receiverLegs)
    if (leg.source !== undefined && leg.takes?.interface !== undefined) append(receivers, leg.takes.interface, leg);
  for (const vlan of plan.vlans) {
    for (const querier of [...(vlan.igmp?.queriers ?? []), ...(vlan.mld?.queriers ?? [])])
      if (querier.address !== undefined) append(queriers, querier.address, { querier, vlan });
    for (const point of vlan.routing?.rendezvousPoints ?? []) append(points, point.address, { point, vlan });
    for (const key of ['gateway', 'gateway6'] as const) {
      const address = vlan[key];
      if (address !== undefined) append(gateways, address, { vlan, key });
    }
  }
  for (const one of plan.interfaces) if (one.gateway !== undefined) append(ownGateways, one.gateway, one);
  return { legs, described, receivers, unicast, queriers, points, gateways, ownGateways };
}
