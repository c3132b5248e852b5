import { inRange, isMulticast, type Address, type AddressRange } from '../../values/address.js';
import { byLabel } from '../../collections/order.js';
import type { Essence } from '../../media/types.js';
import type { ConventionGroups, Interface, Leg, Network, Plan, Rig } from '../../plan/types.js';

/** The promises of a rig's conventions that can be judged: not those that select a network or VLAN nobody finds. */
export function buildHeldTo(plan: Plan): (leg: Leg) => readonly ConventionGroups[] {
  const lost = new Set(plan.unresolved.map((one) => one.origin.container));
  const promises = new Map(
    plan.rigs.map((rig) => [rig, rig.conventions.groups.filter((one) => !lost.has(one.origin.container))]),
  );
  const known = new Map<Rig, Map<string, PromisesByPlace>>();
  // Mostly the leg asked about next is of the same rig and essence: then one look-up is enough.
  let last: { readonly rig: Rig; readonly essence: string; readonly byPlace: PromisesByPlace } | undefined;
  return (leg) => {
    const { rig, essence = '' } = leg.sender;
    if (last === undefined || last.rig !== rig || last.essence !== essence) {
      const byEssence = known.get(rig) ?? new Map<string, PromisesByPlace>();
      known.set(rig, byEssence);
      last = {
        rig,
        essence,
        byPlace: byEssence.get(essence) ?? new Map<object | string, readonly ConventionGroups[]>(),
      };
      byEssence.set(essence, last.byPlace);
    }
    // A VLAN has one network, so a leg with a VLAN is told by that alone.
    const place = leg.vlan ?? leg.network ?? '';
    let held = last.byPlace.get(place);
    if (held === undefined) {
      held = (promises.get(rig) ?? []).filter((promise) => selects(promise, leg));
      last.byPlace.set(place, held);
    }
    return held;
  };
}

type PromisesByPlace = Map<object | string, readonly ConventionGroups[]>;

/** Whether a promise is about a leg: everything it selects by is stated for the leg, and equal. */
function selects(promise: ConventionGroups, leg: Leg): boolean {
  if (promise.network !== undefined && promise.network !== leg.network) return false;
  if (promise.vlan !== undefined && promise.vlan !== leg.vlan) return false;
  return promise.essence === undefined || promise.essence === leg.sender.essence;
}

/** Whether a group keeps a promise. A promise whose ranges are all of the other address family says nothing about it. */
export function keepsPromise(group: Address, promise: ConventionGroups): boolean {
  let says = false;
  for (const range of promise.ranges) {
    if (inRange(group, range)) return true;
    says ||= typeof range.first === typeof group;
  }
  return !says;
}

/** What all the promises leave over, one family, in address order; empty when they contradict each other. */
export function commonRanges(promises: readonly ConventionGroups[], like: Address): readonly AddressRange[] {
  const lists = promises
    .map(({ ranges }) => ranges.filter(({ first }) => typeof first === typeof like && isMulticast(first)))
    .filter((list) => list.length > 0);
  const [start, ...others] = lists;
  let common: readonly AddressRange[] = start ?? [];
  for (const list of others) {
    common = common.flatMap((a) =>
      list.flatMap((b): AddressRange[] => {
        const first = a.first > b.first ? a.first : b.first;
        const last = a.last < b.last ? a.last : b.last;
        return first <= last ? [{ first, last }] : [];
      }),
    );
  }
  return [...common].sort((a, b) => (a.first < b.first ? -1 : a.first > b.first ? 1 : 0));
}

/** Of the promises a leg is held to, those that its group breaks. */
export function brokenPromises({ group }: Leg, heldTo: readonly ConventionGroups[]): readonly ConventionGroups[] {
  return group === undefined ? [] : heldTo.filter((promise) => !keepsPromise(group, promise));
}

/** Networks of the rig that promise ranges for these streams, all of which hold their groups, by name. */
export function homeNetworks(legs: readonly Leg[]): readonly Network[] {
  const [first] = legs;
  if (first === undefined) return [];
  const networks = new Set(
    first.sender.rig.conventions.groups.flatMap(({ network }) =>
      network === undefined || network === first.network ? [] : [network],
    ),
  );
  const homes = [...networks].filter((network) => legs.every((leg) => fitsNetwork(leg, network)));
  return byLabel(homes, ({ name }) => name);
}

function fitsNetwork({ group, sender }: Leg, network: Network): boolean {
  const promises = sender.rig.conventions.groups.filter(
    (one) =>
      one.network === network &&
      one.vlan === undefined &&
      (one.essence === undefined || one.essence === sender.essence),
  );
  return group !== undefined && promises.length > 0 && promises.every((one) => keepsPromise(group, one));
}

const ESSENCES: readonly Essence[] = ['video', 'audio', 'data'];

/** The one other kind of stream whose promises, where the leg is sent, all hold its group while its own do not. */
export function essenceByGroup({ group, network, vlan, sender: { essence, rig } }: Leg): Essence | undefined {
  if (group === undefined || essence === undefined) return undefined;
  const here = rig.conventions.groups.filter(
    (one) => (one.network === undefined || one.network === network) && (one.vlan === undefined || one.vlan === vlan),
  );
  const fits = (asked: Essence): boolean => {
    const own = here.filter((one) => one.essence === asked);
    return own.length > 0 && own.every((one) => keepsPromise(group, one));
  };
  if (fits(essence)) return undefined;
  const [other, ...more] = ESSENCES.filter((one) => one !== essence && fits(one));
  return more.length > 0 ? undefined : other;
}

/** Another interface of the sending device, on one of these networks. */
export function interfaceTowards({ sender, interface: via }: Leg, networks: readonly Network[]): Interface | undefined {
  return sender.device?.interfaces.find(
    (one) => one !== via && one.network !== undefined && networks.includes(one.network),
  );
}
