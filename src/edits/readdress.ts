/** New addresses as cures, with everything that means the same by the old ones: sources, gateways, queriers. */
import type { Device, Interface, Switch } from '../plan/types.js';
import { imageOf, preimageOf } from '../model/groups/index.js';
import { gatewaysOf, hostRange, type Owner, subnetFor } from '../model/hosts/index.js';
import type { Model } from '../model/model.js';
import { inPrefix, inRange, parseAddress, type Address, type Prefix } from '../values/address.js';
import { certainly, likely, peopleDecide, type Cure } from './cure.js';
import { createEditList } from './edit-list.js';
import { moveAddresses, type AddressMove } from './move-addresses.js';
import { moveSubnet, stepBetween, type SubnetMove } from './move-subnet.js';
import { boxOfOwner, writeAddresses } from './write-moves.js';

export interface HeldAddress {
  readonly owner: Owner;
  readonly address: Address;
  /** What the finding's words offer, so that words and edits say one thing. */
  readonly offered?: string | undefined;
}

/** A cure that gives each its own address; people decide where the subnet of one has none that fits. */
export function readdress(model: Model, held: readonly HeldAddress[], certainty: 'certain' | 'likely'): Cure {
  const moves: AddressMove[] = [];
  for (const one of held) {
    const own = movesOf(model, one, moves);
    if (own === undefined) return peopleDecide(`no address that ${boxOfOwner(one.owner).name} may have is free`);
    for (const move of own)
      if (!moves.some(({ owner, from }) => owner === move.owner && from === move.from)) moves.push(move);
  }
  const edits = createEditList();
  writeAddresses(model, moves, edits);
  return certainty === 'certain' ? certainly(edits) : likely(edits);
}

/** A cure that moves whole subnets, each to a block of its size. */
export function moveBlocks(
  model: Model,
  blocks: readonly (SubnetMove & { readonly to: Prefix })[],
  certainty: 'certain' | 'likely',
): Cure {
  const edits = createEditList();
  const moves = blocks.flatMap((one) => moveSubnet(model, one, stepBetween(one.subnet.network, one.to.network), edits));
  writeAddresses(model, moves, edits);
  return certainty === 'certain' ? certainly(edits) : likely(edits);
}

function movesOf(
  model: Model,
  { owner, address, offered }: HeldAddress,
  before: readonly AddressMove[],
): readonly AddressMove[] | undefined {
  const mapped = mappedAddress(owner, address);
  if (mapped !== undefined)
    return isFree(model, owner, mapped, before) ? [{ owner, from: address, to: mapped }] : undefined;
  const offer = offered === undefined ? undefined : parseAddress(offered);
  if (offer !== undefined && !hasTwin(owner, address)) return [{ owner, from: address, to: offer }];
  const { moves, stuck } = moveAddresses(model, [[owner, address]]);
  if (stuck.length > 0 || moves.length === 0)
    return offer === undefined ? undefined : [{ owner, from: address, to: offer }];
  return moves;
}

function siblings(owner: Owner): readonly Owner[] {
  const box: Device | Switch = boxOfOwner(owner);
  const all: readonly Owner[] = 'interfaces' in box ? box.interfaces : box.addresses;
  return all.filter((one) => one !== owner);
}

/** Whether the conventions derive another address of the box from this one, or this one from it. */
function hasTwin(owner: Owner, address: Address): boolean {
  const map = boxOfOwner(owner).rig.conventions.sourceMap;
  const twin = imageOf(address, map) ?? preimageOf(address, map);
  return twin !== undefined && siblings(owner).some((one) => one.address === twin);
}

/** What the conventions derive from another address of the box, in the subnet of this one. */
function mappedAddress(owner: Owner, address: Address): Address | undefined {
  const map = boxOfOwner(owner).rig.conventions.sourceMap;
  for (const { address: other } of siblings(owner)) {
    const wanted = other === undefined ? undefined : (imageOf(other, map) ?? preimageOf(other, map));
    const subnet = wanted === undefined || owner.vlan === undefined ? undefined : subnetFor(owner.vlan, wanted);
    if (wanted !== undefined && wanted !== address && subnet !== undefined && inPrefix(wanted, subnet)) return wanted;
  }
  return undefined;
}

/** Whether an address is free for who holds another one: in the VLAN's subnet, nobody's, and not set aside. */
export function mayHave(model: Model, owner: Owner, address: Address): boolean {
  return isFree(model, owner, address, []);
}

function isFree({ owners, plan }: Model, { vlan }: Owner, address: Address, before: readonly AddressMove[]): boolean {
  const subnet = vlan === undefined ? undefined : subnetFor(vlan, address);
  if (subnet === undefined || owners.byAddress.has(address) || before.some(({ to }) => to === address)) return false;
  return (
    inRange(address, hostRange(subnet)) &&
    plan.vlans.every(
      (one) =>
        (one.dhcp === undefined || typeof one.dhcp.first !== typeof address || !inRange(address, one.dhcp)) &&
        gatewaysOf(one).every((gateway) => gateway.address !== address) &&
        [...(one.igmp?.queriers ?? []), ...(one.mld?.queriers ?? [])].every((querier) => querier.address !== address),
    )
  );
}

/** The other interfaces of a device's kind that have an interface's name, with their VLANs: what is usual for it. */
export function usualVlanOf(model: Model, one: Interface): Interface['vlan'] {
  const { device, name } = one;
  if (device.kind === undefined) return undefined;
  const counts = new Map<NonNullable<Interface['vlan']>, number>();
  for (const other of model.plan.devices) {
    if (other.kind !== device.kind || other === device) continue;
    const vlan = other.interfaces.find((its) => its.name === name)?.vlan;
    if (vlan !== undefined) counts.set(vlan, (counts.get(vlan) ?? 0) + 1);
  }
  const [best] = [...counts].sort(([, a], [, b]) => b - a);
  return best?.[0];
}
