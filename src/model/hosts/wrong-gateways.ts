/** Gateways of interfaces that are not the way out of their VLAN. */
import { byLabel } from '../../collections/order.js';
import { groupBy } from '../../collections/group-by.js';
import type { NonEmpty } from '../../collections/non-empty.js';
import type { Interface, Plan, Vlan } from '../../plan/types.js';
import { formatAddress, inPrefix, isIPv4, type Address, type Prefix } from '../../values/address.js';
import { forwards, gatewayFor, subnetFor, type Addressing, type StatedGateway } from './addressing.js';
import { ownPrefix } from './own-subnet.js';
import { ownerLabel, type Owners } from './owners.js';
import { isLinkLocal } from './special-purpose.js';
import type { WrongVlans } from './wrong-vlans.js';

/** Its own address; outside the subnet; in the subnet, but not what the VLAN states. RFC 1122 §3.3.1.1, §3.3.1.6. */
export type GatewayFault = 'own' | 'outside' | 'unlike';

/** Interfaces of one VLAN with one wrong gateway: one slip, often in a device kind. */
export interface WrongGateway {
  readonly gateway: Address;
  readonly fault: GatewayFault;
  readonly vlan: Vlan | undefined;
  /** Sorted by label. */
  readonly interfaces: NonEmpty<Interface>;
  readonly subnet: Prefix | undefined;
  /** What the VLAN states. */
  readonly right: StatedGateway | undefined;
  /** Another router of the VLAN holds it: a way out too, only not the one the VLAN names. */
  readonly otherRouter: boolean;
  /** More interfaces have it than have what the VLAN states, so the VLAN is the one to doubt. */
  readonly outvotes: boolean;
}

export interface GatewayParts {
  readonly addressing: Addressing;
  readonly owners: Owners;
  readonly wrongVlans: WrongVlans;
}

/** In order of first appearance. */
export function wrongGateways(plan: Plan, parts: GatewayParts): readonly WrongGateway[] {
  const agreeing = new Map<Vlan, number>();
  const faulty: Faulty[] = [];
  for (const one of plan.interfaces) {
    const { gateway, vlan } = one;
    if (gateway === undefined || isLinkLocal(gateway)) continue;
    if (vlan !== undefined && gatewayFor(vlan, gateway)?.address === gateway) {
      agreeing.set(vlan, (agreeing.get(vlan) ?? 0) + 1);
      continue; // outside the subnet: subnets/gateway-outside; its own: subnets/gateway-taken
    }
    // The gateway of the VLAN it belongs in.
    const home = parts.wrongVlans.of(one)?.home;
    if (home !== undefined && gatewayFor(home, gateway)?.address === gateway) continue;
    const subnet = subnetToReach(one, gateway, parts.addressing);
    const fault = faultOf(one, gateway, subnet);
    if (fault !== undefined) faulty.push({ one, gateway, subnet, fault });
  }
  return [...groupBy(faulty, causeKey).values()].map((alike) => {
    const [{ gateway, subnet, fault, one }, ...rest] = byLabel(alike, ({ one }) => ownerLabel(one));
    const { vlan } = alike[0].one;
    const right = vlan === undefined ? undefined : gatewayFor(vlan, gateway);
    const unlike = fault === 'unlike';
    return {
      gateway,
      fault,
      vlan,
      interfaces: [one, ...rest.map((other) => other.one)],
      subnet,
      right,
      otherRouter:
        unlike && (parts.owners.byAddress.get(gateway) ?? []).some((owner) => owner.vlan === vlan && forwards(owner)),
      outvotes: unlike && vlan !== undefined && alike.length > Math.max(1, agreeing.get(vlan) ?? 0),
    };
  });
}

interface Faulty {
  readonly one: Interface;
  readonly gateway: Address;
  readonly subnet: Prefix | undefined;
  readonly fault: GatewayFault;
}

function causeKey({ one, gateway, fault }: Faulty): string {
  const { vlan, device } = one;
  const whom = fault === 'own' || vlan === undefined ? ownerLabel(one) : vlan.name;
  return [formatAddress(gateway), whom, device.rig.name].join('\n');
}

function faultOf(one: Interface, gateway: Address, subnet: Prefix | undefined): GatewayFault | undefined {
  const right = one.vlan === undefined ? undefined : gatewayFor(one.vlan, gateway)?.address;
  if (gateway === one.address || gateway === one.address6) return one.device.routes ? undefined : 'own';
  if (subnet !== undefined && !inPrefix(gateway, subnet)) return 'outside';
  const usable = right !== undefined && (subnet === undefined || inPrefix(right, subnet) || isLinkLocal(right));
  return usable ? 'unlike' : undefined;
}

/** The VLAN's subnet, unless most of its boxes disagree with it; else the interface's own. */
function subnetToReach(one: Interface, gateway: Address, { fits }: Addressing): Prefix | undefined {
  const stated = one.vlan === undefined ? undefined : subnetFor(one.vlan, gateway);
  if (stated !== undefined) return fits.get(stated)?.outvotedBy?.prefix ?? stated;
  for (const [address, length] of [
    [one.address, one.prefixLength],
    [one.address6, one.prefixLength6],
  ] as const) {
    if (address === undefined || isIPv4(address) !== isIPv4(gateway)) continue;
    if (length !== undefined && length !== 128 && !isLinkLocal(address)) return ownPrefix(address, length);
  }
  return undefined;
}
