/** A whole subnet moves: the VLAN's block, gateway, queriers and DHCP range, and every box in it, by one step. */
import type { Vlan } from '../plan/types.js';
import type { Model } from '../model/model.js';
import {
  formatAddress,
  formatRange,
  inPrefix,
  inRange,
  rangeOf,
  type Address,
  type Prefix,
} from '../values/address.js';
import type { EditList } from './edit-list.js';
import type { AddressMove } from './move-addresses.js';

export interface SubnetMove {
  readonly vlan: Vlan;
  readonly subnet: Prefix;
  readonly key: 'subnet' | 'subnet6';
}

/** Writes the VLAN's own entries; what its boxes hold is the answer, for `writeAddresses`. */
export function moveSubnet(
  model: Model,
  { vlan, subnet, key }: SubnetMove,
  step: number | bigint,
  edits: EditList,
): readonly AddressMove[] {
  const to = shiftedPrefix(subnet, step);
  edits.set(vlan, key, `${formatAddress(to.network)}/${to.length}`);
  const inside = (address: Address | undefined): address is Address =>
    address !== undefined && typeof address === typeof subnet.network && inPrefix(address, subnet);
  for (const gateway of ['gateway', 'gateway6'] as const) {
    const address = vlan[gateway];
    if (inside(address)) edits.set(vlan, gateway, formatAddress(plus(address, step)));
  }
  for (const querier of [...(vlan.igmp?.queriers ?? []), ...(vlan.mld?.queriers ?? [])])
    if (inside(querier.address)) edits.set(querier, 'address', formatAddress(plus(querier.address, step)));
  for (const one of model.plan.vlans) {
    if (one.rig !== vlan.rig) continue;
    for (const point of one.routing?.rendezvousPoints ?? [])
      if (inside(point.address)) edits.set(point, 'address', formatAddress(plus(point.address, step)));
  }
  const { dhcp } = vlan;
  if (dhcp !== undefined && inRange(dhcp.first, rangeOf(subnet)))
    edits.set(vlan, 'dhcp', formatRange({ first: plus(dhcp.first, step), last: plus(dhcp.last, step) }));
  for (const one of model.plan.interfaces)
    if (one.vlan === vlan && inside(one.gateway)) edits.set(one, 'gateway', formatAddress(plus(one.gateway, step)));
  return (model.addressing.byVlan.get(vlan) ?? [])
    .filter(({ address }) => inside(address))
    .map(({ owner, address }): AddressMove => ({ owner, from: address, to: plus(address, step) }));
}

export function shiftedPrefix({ network, length }: Prefix, step: number | bigint): Prefix {
  const to = plus(network, step);
  return { address: to, network: to, length };
}

/** How far it is from one address to another of its family. */
export function stepBetween(from: Address, to: Address): number | bigint {
  return typeof from === 'number' && typeof to === 'number' ? to - from : BigInt(to) - BigInt(from);
}

function plus(address: Address, step: number | bigint): Address {
  return typeof address === 'number' ? address + Number(step) : address + BigInt(step);
}
