/** New addresses as cures, with everything that means the same by the old ones: sources, gateways, queriers. */
import type { Device, Interface, Switch } from '../plan/types.js';
import { imageOf, preimageOf } from '../model/groups/index.js';
import { type Owner, subnetFor } from '../model/hosts/index.js';
import type { Model } from '../model/model.js';
import { inPrefix, parseAddress, type Address, type Prefix } from '../values/address.js';
import { certainly, likely, peopleDecide, type Cure } from './cure.js';
import { createEditList } from './edit-list.js';
import { createAddressSpace, moveAddresses, type AddressMove, type AddressSpace } from './move-addresses.js';
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
  const moves = new Map<Owner, Map<Address, AddressMove>>();
  for (const one of held) {
    const own = chosenFor(model, one);
    if (own === undefined) return peopleDecide(`no address that ${boxOfOwner(one.owner).name} may have is free`);
    for (const move of own) {
      const known = moves.get(move.owner);
      if (known === undefined) moves.set(move.owner, new Map([[move.from, move]]));
      else if (!known.has(move.from)) known.set(move.from, move);
    }
  }
  const edits = createEditList();
  writeAddresses(
    model,
    [...moves.values()].flatMap((own) => [...own.values()]),
    edits,
  );
  return certainty === 'certain' ? certainly(edits) : likely(edits);
}

/** What all cures of a plan choose from, so that none is given what another has. */
interface Choices {
  readonly space: AddressSpace;
  /** What is chosen for an address is chosen once, whichever finding asks first. */
  readonly chosen: Map<Owner, Map<Address, readonly AddressMove[]>>;
}

const CHOICES = new WeakMap<Model, Choices>();

function choicesIn(model: Model): Choices {
  let known = CHOICES.get(model);
  if (known === undefined) CHOICES.set(model, (known = { space: createAddressSpace(model), chosen: new Map() }));
  return known;
}

function chosenFor(model: Model, one: HeldAddress): readonly AddressMove[] | undefined {
  const { space, chosen } = choicesIn(model);
  const { owner, address } = one;
  const before = chosen.get(owner)?.get(address);
  if (before !== undefined) return before;
  const found = movesOf(model, space, one);
  for (const move of found ?? []) {
    space.take(move.to);
    const own = chosen.get(move.owner);
    if (own === undefined) chosen.set(move.owner, new Map([[move.from, found ?? []]]));
    else own.set(move.from, found ?? []);
  }
  return found;
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
  space: AddressSpace,
  { owner, address, offered }: HeldAddress,
): readonly AddressMove[] | undefined {
  const offer = offered === undefined ? undefined : parseAddress(offered);
  const mapped = mappedAddress(owner, address);
  if (mapped !== undefined)
    return mapped === offer || space.mayHave(owner, mapped) ? [{ owner, from: address, to: mapped }] : undefined;
  if (offer !== undefined && !hasTwin(owner, address)) return [{ owner, from: address, to: offer }];
  const { moves, stuck } = moveAddresses(model, [[owner, address]], space);
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

/** Whether an address is free for who holds another one: in the VLAN's subnet, nobody's, not set aside and not offered yet. */
export function mayHave(model: Model, owner: Owner, address: Address): boolean {
  return choicesIn(model).space.mayHave(owner, address);
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
