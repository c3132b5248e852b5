/** New numbers to edits: the number itself, and every other entry that means the same thing by it. */
import { append } from '../collections/group-by.js';
import { formatAddress, type Address } from '../values/address.js';
import type { Device, Entity, Interface, Switch, Vlan } from '../plan/types.js';
import { forwards, gatewayFor, isInterface, type Owner } from '../model/hosts/index.js';
import type { Model } from '../model/model.js';
import type { EditList } from './edit-list.js';
import { addressFollowersIn, type AddressFollowers } from './address-followers.js';
import type { AddressMove } from './move-addresses.js';
import { followersIn } from './followers.js';
import type { GroupMove } from './move-groups.js';

/** Receivers and descriptions that state the group of a stream that moves state the new one. */
export function writeGroups(model: Model, moves: readonly GroupMove[], edits: EditList): void {
  if (moves.length === 0) return;
  const { receivers, descriptions } = followersIn(model);
  for (const { leg, group } of moves) {
    const text = formatAddress(group);
    edits.set(leg, 'group', text);
    for (const one of receivers.get(leg) ?? [])
      if (one.groupStated && one.group === leg.group) edits.set(one, 'group', text);
    for (const { legs } of descriptions.get(leg.sender) ?? []) {
      const twin = legs[leg.index];
      if (twin !== undefined && twin.group === leg.group) edits.set(twin, 'group', text);
    }
  }
}

/** An address with its prefix length, as it was written, and whatever means the same by it. */
export function writeAddresses(model: Model, moves: readonly AddressMove[], edits: EditList): void {
  if (moves.length === 0) return;
  const { owners, unicastReach } = model;
  const followers = addressFollowersIn(model);
  const moved = new Map<Owner, Map<Address, Address>>();
  const byFrom = new Map<Address, AddressMove[]>();
  for (const move of moves) {
    const { owner, from, to } = move;
    const own = moved.get(owner);
    if (own === undefined) moved.set(owner, new Map([[from, to]]));
    else own.set(from, to);
    append(byFrom, from, move);
    writeHeld(owner, from, to, edits);
  }
  const set = (entity: Entity, key: string, address: Address | undefined): void => {
    if (address !== undefined) edits.set(entity, key, formatAddress(address));
  };

  for (const [from, own] of byFrom) writeQueriers(followers, from, own, set);
  for (const [owner, now] of moved) {
    if (!isInterface(owner)) continue;
    const to = (address: Address | undefined) => (address === undefined ? undefined : now.get(address));
    for (const leg of [...(followers.legs.get(owner) ?? []), ...(followers.described.get(owner) ?? [])])
      if (edits.says(leg, 'source')) set(leg, 'source', to(leg.source));
    for (const leg of followers.receivers.get(owner) ?? []) set(leg, 'source', to(leg.source));
  }

  const holder = (vlan: Vlan, address: Address): Owner | undefined =>
    (owners.byAddress.get(address) ?? []).find(
      (owner) =>
        moved.has(owner) && owner.vlan !== undefined && unicastReach.joined(owner.vlan) === unicastReach.joined(vlan),
    );
  for (const from of byFrom.keys()) {
    for (const leg of followers.unicast.get(from) ?? []) {
      const to = leg.vlan === undefined ? undefined : holder(leg.vlan, from);
      if (to !== undefined && boxOfOwner(to).rig === leg.sender.rig) set(leg, 'unicast', moved.get(to)?.get(from));
    }
    writeGateways(followers, from, owners.byAddress, moved, set);
  }
}

function writeHeld(owner: Owner, from: Address, to: Address, edits: EditList): void {
  const key = isInterface(owner) && owner.address6 === from ? 'address6' : 'address';
  const length = isInterface(owner) && key === 'address6' ? owner.prefixLength6 : owner.prefixLength;
  edits.set(owner, key, `${formatAddress(to)}${length === undefined ? '' : `/${length}`}`);
}

type Set = (entity: Entity, key: string, address: Address | undefined) => void;

/** A querier queries from an address of its box, and so does a rendezvous point answer. */
function writeQueriers(
  { queriers, points }: AddressFollowers,
  from: Address,
  moves: readonly AddressMove[],
  set: Set,
): void {
  for (const { querier, vlan } of queriers.get(from) ?? []) {
    const move = moves.find(({ owner }) => boxOfOwner(owner) === querier.on && owner.vlan === vlan);
    if (move !== undefined) set(querier, 'address', move.to);
  }
  for (const { point, vlan } of points.get(from) ?? []) {
    const move = moves.find(({ owner }) => boxOfOwner(owner).rig === vlan.rig);
    if (move !== undefined) set(point, 'address', move.to);
  }
}

/** A gateway follows its router, unless a router of the other rig holds the address from now on. */
function writeGateways(
  { gateways, ownGateways }: AddressFollowers,
  address: Address,
  byAddress: ReadonlyMap<Address, readonly Owner[]>,
  moved: ReadonlyMap<Owner, ReadonlyMap<Address, Address>>,
  set: Set,
): void {
  const holders = (byAddress.get(address) ?? []).filter(forwards);
  if (holders.some((owner) => moved.get(owner)?.has(address) !== true)) return;
  const now = (vlan: Vlan): Address | undefined => {
    const own = holders.find((owner) => owner.vlan === vlan);
    return own === undefined ? undefined : moved.get(own)?.get(address);
  };
  for (const { vlan, key } of gateways.get(address) ?? []) set(vlan, key, now(vlan));
  for (const one of ownGateways.get(address) ?? []) {
    if (one.vlan === undefined) continue;
    if (gatewayFor(one.vlan, address)?.address === address || ownGateway(one, byAddress))
      set(one, 'gateway', now(one.vlan));
  }
}

function ownGateway({ gateway, vlan }: Interface, byAddress: ReadonlyMap<Address, readonly Owner[]>): boolean {
  return (
    gateway !== undefined && (byAddress.get(gateway) ?? []).some((owner) => owner.vlan === vlan && forwards(owner))
  );
}

/** The box that holds an address. */
export function boxOfOwner(owner: Owner): Device | Switch {
  return isInterface(owner) ? owner.device : owner.switch;
}
