/**
 * New addresses for boxes that have to give theirs up, in their own subnets. All of one VLAN move by one step where they
 * can, so that the crew can work them out; where the conventions derive the second leg's address from the first's, both move.
 */
import { addTo, append } from '../collections/group-by.js';
import { inRange, isIPv4, type Address, type AddressRange } from '../values/address.js';
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

export function moveAddresses(model: Model, held: readonly (readonly [Owner, Address])[]): AddressMoves {
  const space = createSpace(model);
  const moves: AddressMove[] = [];
  const stuck: Owner[] = [];
  const commit = (set: Twins, step: number): void => {
    for (const [owner, from] of set.owners) {
      const to = moved(from, step);
      space.take(owner, to);
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

function stepFor(set: Twins, space: Space): number | undefined {
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

interface Space {
  readonly free: (set: Twins, step: number) => boolean;
  readonly take: (owner: Owner, address: Address) => void;
  /** Where the search of the owner's subnet goes on. */
  readonly cursor: (owner: Owner, address: Address) => { at: Address; readonly last: Address } | undefined;
}

function createSpace({ plan, owners, unicastReach }: Model): Space {
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
  const rangeFor = ({ vlan }: Owner, address: Address): AddressRange | undefined => {
    const subnet = vlan === undefined ? undefined : subnetFor(vlan, address);
    return subnet === undefined ? undefined : hostRange(subnet);
  };
  return {
    free: (set, step) =>
      set.owners.every(([owner, from]) => {
        const to = moved(from, step);
        const range = rangeFor(owner, from);
        if (owner.vlan === undefined || range === undefined || to < range.first || to > range.last) return false;
        if (given.has(to) || special.has(to) || owners.byAddress.has(to)) return false;
        return !(pools.get(unicastReach.wire(owner.vlan)) ?? []).some((pool) => inRange(to, pool));
      }),
    take: (_, address) => given.add(address),
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
