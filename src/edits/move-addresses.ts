/**
 * New addresses for boxes that have to give theirs up, in their own subnets. All of one VLAN move by one step where they
 * can, so that the crew can work them out; where the conventions derive the second leg's address from the first's, both move.
 */
import { addTo, append } from '../collections/group-by.js';
import { inRange, isIPv4, type Address, type AddressRange, type Prefix } from '../values/address.js';
import type { Vlan } from '../plan/types.js';
import { gatewaysOf, hostRange, isInterface, type Owner, subnetFor } from '../model/hosts/index.js';
import { imageOf, preimageOf } from '../model/groups/index.js';
import type { Model } from '../model/model.js';

export interface AddressMove {
  readonly owner: Owner;
  readonly from: Address;
  readonly to: Address;
}

export interface AddressMoves {
  readonly moves: readonly AddressMove[];
  /** Addresses whose subnet has no room. */
  readonly stuck: readonly Owner[];
}

/** An address that moves, with those the conventions derive from it or it from them. */
interface Twins {
  readonly owners: readonly (readonly [Owner, Address])[];
}

/** Moves asked for with one space are given no address twice. */
export function moveAddresses(
  model: Model,
  held: readonly (readonly [Owner, Address])[],
  space = createAddressSpace(model),
): AddressMoves {
  const moves: AddressMove[] = [];
  const stuck: Owner[] = [];
  const commit = (set: Twins, step: number): void => {
    for (const [owner, from] of set.owners) {
      const to = moved(from, step);
      space.take(to);
      moves.push({ owner, from, to });
    }
  };
  for (const bundle of bundlesOf(held)) {
    const step = STEPS.find((one) => bundle.every((set) => space.free(set, one)));
    for (const set of bundle) {
      const own = step ?? stepFor(set, space);
      if (own === undefined) stuck.push(...set.owners.map(([owner]) => owner));
      else commit(set, own);
    }
  }
  return { moves, stuck };
}

/** What belongs together: by the VLAN of the first, and switches apart from hosts, for their order decides who queries. */
function bundlesOf(held: readonly (readonly [Owner, Address])[]): readonly (readonly Twins[])[] {
  const bundles = new Map<Vlan | undefined, { readonly hosts: Twins[]; readonly switches: Twins[] }>();
  const done = new Map<Owner, Set<Address>>();
  for (const [owner, address] of held) {
    if (done.get(owner)?.has(address) === true) continue;
    const owners = withTwins(owner, address);
    for (const [one, its] of owners) {
      addTo(done, one, its);
    }
    let bundle = bundles.get(owner.vlan);
    if (bundle === undefined) bundles.set(owner.vlan, (bundle = { hosts: [], switches: [] }));
    (isInterface(owner) ? bundle.hosts : bundle.switches).push({ owners });
  }
  return [...bundles.values()].flatMap(({ hosts, switches }) => [switches, hosts]);
}

/** The address of the other leg of the same box, where the conventions derive one from the other. */
function withTwins(owner: Owner, address: Address): readonly (readonly [Owner, Address])[] {
  const box = isInterface(owner) ? owner.device : owner.switch;
  const map = box.rig.conventions.sourceMap;
  const twin = imageOf(address, map) ?? preimageOf(address, map);
  const others: readonly Owner[] = isInterface(owner) ? owner.device.interfaces : owner.switch.addresses;
  const other = twin === undefined ? undefined : others.find((one) => one.address === twin && one !== owner);
  return other === undefined || twin === undefined
    ? [[owner, address]]
    : [
        [owner, address],
        [other, twin],
      ];
}

/** Round steps are easy to remember: 31 becomes 131. */
const STEPS: readonly number[] = [
  ...[100, 50, 200, 150, 20, 10, 30, 40],
  ...Array.from({ length: 254 }, (_, index) => index + 1).flatMap((step) => [step, -step]),
];

/** Further than this no free address is looked for. */
const MOST_TRIES = 65_536;

function stepFor(set: Twins, space: AddressSpace): number | undefined {
  const [first] = set.owners;
  if (first === undefined) return undefined;
  const known = STEPS.find((one) => space.free(set, one));
  if (known !== undefined) return known;
  const cursor = space.cursor(first[0], first[1]);
  if (cursor === undefined) return undefined;
  for (let tries = 0; cursor.at <= cursor.last && tries < MOST_TRIES; tries++, cursor.at = moved(cursor.at, 1)) {
    const step = isIPv4(cursor.at) ? cursor.at - Number(first[1]) : Number(cursor.at - BigInt(first[1]));
    if (space.free(set, step)) return step;
  }
  return undefined;
}

/** Which addresses are free yet, for all who are to get one. */
export interface AddressSpace {
  /** Whether all of a set may move by a step. */
  readonly free: (set: Twins, step: number) => boolean;
  /** Whether an owner may have an address in its VLAN's subnet. */
  readonly mayHave: (owner: Owner, address: Address) => boolean;
  readonly take: (address: Address) => void;
  /** Where the search of the owner's subnet goes on. */
  readonly cursor: (owner: Owner, address: Address) => { at: Address; readonly last: Address } | undefined;
}

export function createAddressSpace({ plan, owners, unicastReach, proposals }: Model): AddressSpace {
  const special = new Set<Address | undefined>();
  const pools = new Map<object, AddressRange[]>();
  for (const vlan of plan.vlans) {
    for (const { address } of gatewaysOf(vlan)) special.add(address);
    for (const { address } of [...(vlan.igmp?.queriers ?? []), ...(vlan.mld?.queriers ?? [])]) special.add(address);
    if (vlan.dhcp === undefined) continue;
    const wire = unicastReach.wire(vlan);
    append(pools, wire, vlan.dhcp);
  }
  const given = new Set<Address>();
  const cursors = new Map<object, { at: Address; readonly last: Address }>();
  const ranges = new Map<Prefix, AddressRange>();
  const rangeFor = ({ vlan }: Owner, address: Address): AddressRange | undefined => {
    const subnet = vlan === undefined ? undefined : subnetFor(vlan, address);
    if (subnet === undefined) return undefined;
    let range = ranges.get(subnet);
    if (range === undefined) ranges.set(subnet, (range = hostRange(subnet)));
    return range;
  };
  const mayHave = (owner: Owner, to: Address, like = to): boolean => {
    const range = rangeFor(owner, like);
    if (owner.vlan === undefined || range === undefined || to < range.first || to > range.last) return false;
    if (given.has(to) || special.has(to) || owners.byAddress.has(to) || proposals.isOffered(to)) return false;
    return !(pools.get(unicastReach.wire(owner.vlan)) ?? []).some((pool) => inRange(to, pool));
  };
  return {
    free: (set, step) => set.owners.every(([owner, from]) => mayHave(owner, moved(from, step), from)),
    mayHave,
    take: (address) => given.add(address),
    cursor: (owner, address) => {
      const range = rangeFor(owner, address);
      if (owner.vlan === undefined || range === undefined) return undefined;
      const key = unicastReach.wire(owner.vlan);
      let cursor = cursors.get(key);
      if (cursor === undefined) cursors.set(key, (cursor = { at: range.first, last: range.last }));
      return cursor;
    },
  };
}

function moved(address: Address, step: number): Address {
  return typeof address === 'number' ? address + step : address + BigInt(step);
}
