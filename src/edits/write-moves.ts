/** New numbers to edits: the number itself, and every other entry that means the same thing by it. */
import { append } from '../collections/group-by.js';
import { formatAddress, type Address } from '../values/address.js';
import type { Device, Entity, Interface, Plan, Switch, Vlan } from '../plan/types.js';
import { forwards, gatewayFor, isInterface, type Owner } from '../model/hosts/index.js';
import type { Model } from '../model/model.js';
import type { EditList } from './edit-list.js';
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

/** An address with its prefix length, as it was written. */
export function writeAddresses(
  { plan, owners, unicastReach }: Model,
  moves: readonly AddressMove[],
  edits: EditList,
): void {
  if (moves.length === 0) return;
  const moved = new Map<Owner, Map<Address, Address>>();
  for (const { owner, from, to } of moves) {
    const own = moved.get(owner);
    if (own === undefined) moved.set(owner, new Map([[from, to]]));
    else own.set(from, to);
    writeHeld(owner, from, to, edits);
  }
  const now = (owner: Owner | undefined, address: Address | undefined): Address | undefined =>
    owner === undefined || address === undefined ? undefined : moved.get(owner)?.get(address);
  const set = (entity: Entity, key: string, address: Address | undefined): void => {
    if (address !== undefined) edits.set(entity, key, formatAddress(address));
  };

  writeQueriers(plan, moves, set);
  for (const leg of plan.legs) {
    if (leg.interface !== undefined && edits.says(leg, 'source')) set(leg, 'source', now(leg.interface, leg.source));
  }
  for (const { sender, of } of plan.descriptions) {
    for (const leg of sender.legs) {
      const twin = of.legs[leg.index];
      if (edits.says(leg, 'source') && twin?.source === leg.source)
        set(leg, 'source', now(twin?.interface, leg.source));
    }
  }
  for (const leg of plan.receiverLegs)
    if (leg.source !== undefined) set(leg, 'source', now(leg.takes?.interface, leg.source));

  const holder = (vlan: Vlan, address: Address): Owner | undefined =>
    (owners.byAddress.get(address) ?? []).find(
      (owner) =>
        moved.has(owner) && owner.vlan !== undefined && unicastReach.joined(owner.vlan) === unicastReach.joined(vlan),
    );
  for (const leg of plan.legs) {
    if (leg.unicast === undefined || leg.vlan === undefined) continue;
    const to = holder(leg.vlan, leg.unicast);
    if (to !== undefined && boxOfOwner(to).rig === leg.sender.rig) set(leg, 'unicast', now(to, leg.unicast));
  }
  writeGateways(plan, owners.byAddress, moved, set);
}

function writeHeld(owner: Owner, from: Address, to: Address, edits: EditList): void {
  const key = isInterface(owner) && owner.address6 === from ? 'address6' : 'address';
  const length = isInterface(owner) && key === 'address6' ? owner.prefixLength6 : owner.prefixLength;
  edits.set(owner, key, `${formatAddress(to)}${length === undefined ? '' : `/${length}`}`);
}

type Set = (entity: Entity, key: string, address: Address | undefined) => void;

/** A querier queries from an address of its box. */
function writeQueriers(plan: Plan, moves: readonly AddressMove[], set: Set): void {
  const byBox = new Map<Device | Switch, AddressMove[]>();
  for (const move of moves) {
    const box = boxOfOwner(move.owner);
    append(byBox, box, move);
  }
  for (const vlan of plan.vlans) {
    for (const querier of [...(vlan.igmp?.queriers ?? []), ...(vlan.mld?.queriers ?? [])]) {
      const own = querier.on === undefined ? [] : (byBox.get(querier.on) ?? []);
      const move = own.find(({ from, owner }) => from === querier.address && owner.vlan === vlan);
      if (move !== undefined) set(querier, 'address', move.to);
    }
    for (const point of vlan.routing?.rendezvousPoints ?? []) {
      const move = moves.find(({ from, owner }) => from === point.address && boxOfOwner(owner).rig === vlan.rig);
      if (move !== undefined) set(point, 'address', move.to);
    }
  }
}

/** A gateway follows its router, unless a router of the other rig holds the address from now on. */
function writeGateways(
  plan: Plan,
  byAddress: ReadonlyMap<Address, readonly Owner[]>,
  moved: ReadonlyMap<Owner, ReadonlyMap<Address, Address>>,
  set: Set,
): void {
  const now = (vlan: Vlan, address: Address): Address | undefined => {
    const holders = (byAddress.get(address) ?? []).filter(forwards);
    if (holders.some((owner) => moved.get(owner)?.has(address) !== true)) return undefined;
    const own = holders.find((owner) => owner.vlan === vlan);
    return own === undefined ? undefined : moved.get(own)?.get(address);
  };
  for (const vlan of plan.vlans) {
    if (vlan.gateway !== undefined) set(vlan, 'gateway', now(vlan, vlan.gateway));
    if (vlan.gateway6 !== undefined) set(vlan, 'gateway6', now(vlan, vlan.gateway6));
  }
  for (const one of plan.interfaces) {
    if (one.gateway === undefined || one.vlan === undefined) continue;
    if (gatewayFor(one.vlan, one.gateway)?.address === one.gateway || ownGateway(one, byAddress))
      set(one, 'gateway', now(one.vlan, one.gateway));
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
