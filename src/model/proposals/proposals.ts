/**
 * Groups and addresses to advise. Each is offered once in a lint, so that two mends made one after the other do not make
 * a new fault: rules ask in an order that does not depend on how the plan is ordered.
 */
import { networkOf, rangeOf, type Address, type AddressRange, type Prefix } from '../../values/address.js';
import type { ConventionGroups, Interface, Leg, LegMapEntry, Plan, Port, Rig, Switch, Vlan } from '../../plan/types.js';
import { isInterface, type Owner, type Owners, subnetFor } from '../hosts/index.js';
import { createFreeAddresses } from './free-addresses.js';
import { freeGroups } from './free-groups.js';
import { append } from '../../collections/group-by.js';
import { once } from '../../collections/once.js';
import {
  aliasedClockGroup,
  commonRanges,
  ethernetAddress,
  floodedEthernetAddress,
  groupFitness,
  type GroupIndex,
  imageOf,
  keepsPromise,
  preimageOf,
  type Strays,
} from '../groups/index.js';
import { createFreeVlanIds, type Domains, joinClasses } from '../vlans/index.js';

export interface Proposals {
  /** A free group in ranges of a rig. */
  readonly group: (rig: Rig, ranges: readonly AddressRange[]) => Address | undefined;
  /**
   * A free group a leg may move to: the one its other leg asks for by the conventions' map, else one of its ranges. `newFirst`
   * is what the first leg moves to.
   */
  readonly groupFor: (leg: Leg, newFirst?: Address) => Address | undefined;
  /** A free group for the first leg of a pair whose image, by the conventions' map, the second may have: both, each time others. */
  readonly pairFor: (
    first: Leg,
    second: Leg,
    ranges: readonly [readonly AddressRange[], readonly AddressRange[]],
  ) => readonly [Address, Address] | undefined;
  /** The group that the other leg asks for by the conventions' map, where that leg is sound and the group is free. */
  readonly mappedGroup: (leg: Leg) => Address | undefined;
  /** Whether a group is free, keeps the leg's promises or those given, and is not offered yet; from then on it is. */
  readonly claim: (group: Address, leg: Leg, promises?: readonly ConventionGroups[]) => boolean;
  /** A port of a switch that no cable is on, the first in its order that fits. */
  readonly port: (owner: Switch, fits: (port: Port) => boolean) => Port | undefined;
  /** A free address of a VLAN: the one with the last number of the owner's other interfaces, else the next after `near`. */
  readonly address: (vlan: Vlan | undefined, near: Address, owner?: Owner) => Address | undefined;
  /** Whether an address was offered. */
  readonly isOffered: (address: Address) => boolean;
  /** An 802.1Q id that no VLAN has. */
  readonly vlanId: () => number | undefined;
}

export interface ProposalFacts {
  readonly plan: Plan;
  readonly domains: Domains;
  readonly groups: GroupIndex;
  readonly heldTo: (leg: Leg) => readonly ConventionGroups[];
  readonly owners: Owners;
  readonly strays: Strays;
}

/** How many pairs are tried: a block so full wants a person's decision. */
const MOST_PAIRS = 256;

export function createProposals({ plan, domains, groups, heldTo, owners, strays }: ProposalFacts): Proposals {
  const offered = new Map<Address, Leg | undefined>();
  const nextGroup = freeGroups(plan, offered);
  let used: ReadonlySet<Port | undefined> | undefined;
  const freePorts = new Map<Switch, Port[]>();
  const byEthernet = once(() => {
    const found = new Map<number, { readonly group: Address; readonly leg: Leg }[]>();
    for (const leg of plan.legs)
      if (leg.group !== undefined) append(found, ethernetAddress(leg.group), { group: leg.group, leg });
    return found;
  });
  const addresses = createFreeAddresses(owners, joinClasses(plan));

  function claim(group: Address, leg: Leg, promises = heldTo(leg)): boolean {
    const { conventions, practice } = leg.sender.rig;
    // What a leg was offered it may be offered again: words and edits of one finding ask apart.
    if (offered.get(group) === leg) return true;
    if (offered.has(group) || groups.usesOf(group).length > 0) return false;
    if (sharesEthernet(group, leg) || floodedEthernetAddress(group)) return false;
    if (typeof group === 'number' && aliasedClockGroup(group) !== undefined) return false;
    if (groupFitness(group, conventions, practice) !== 'usable' || !promises.every((one) => keepsPromise(group, one)))
      return false;
    offered.set(group, leg);
    append(byEthernet(), ethernetAddress(group), { group, leg });
    return true;
  }

  /** Whether switches that know groups by their multicast MAC would take it for another one that its network carries. */
  function sharesEthernet(group: Address, leg: Leg): boolean {
    const reach = domains.reach(leg);
    return (byEthernet().get(ethernetAddress(group)) ?? []).some(
      (one) => one.leg !== leg && one.group !== group && domains.reach(one.leg) === reach,
    );
  }

  function mappedGroup(leg: Leg): Address | undefined {
    const { legs, rig } = leg.sender;
    const other = legs[1 - leg.index];
    if (other?.group === undefined || rig.conventions.groupMap.length === 0 || !isSound(other, other.group))
      return undefined;
    const group =
      leg.index === 1
        ? imageOf(other.group, rig.conventions.groupMap)
        : preimageOf(other.group, rig.conventions.groupMap);
    return group !== undefined && claim(group, leg) ? group : undefined;
  }

  /** Nothing is wrong with the group of a leg, so that the other leg can follow it. */
  function isSound(leg: Leg, group: Address): boolean {
    const { conventions, practice } = leg.sender.rig;
    if (groupFitness(group, conventions, practice) !== 'usable' || strays.has(leg)) return false;
    return groups.usesOf(group).every(({ legs }) => legs.every((one) => one === leg));
  }

  const nextVlanId = createFreeVlanIds(plan);
  const group = (rig: Rig, ranges: readonly AddressRange[]): Address | undefined => nextGroup(rig, ranges);
  return {
    group,
    groupFor: (leg, newFirst) => {
      const image =
        newFirst === undefined || leg.index !== 1 ? undefined : imageOf(newFirst, leg.sender.rig.conventions.groupMap);
      if (image !== undefined && claim(image, leg)) return image;
      const ranges = commonRanges(heldTo(leg), leg.group ?? 0);
      return mappedGroup(leg) ?? group(leg.sender.rig, withImages(leg, ranges)) ?? group(leg.sender.rig, ranges);
    },
    pairFor: (first, second, ranges) => {
      const { groupMap } = first.sender.rig.conventions;
      const mapped = groupMap.flatMap((entry) => pairRanges(entry, ranges));
      for (let tries = 0; tries < MOST_PAIRS; tries++) {
        const one = group(first.sender.rig, mapped);
        const image = one === undefined ? undefined : imageOf(one, groupMap);
        if (one === undefined) return undefined;
        if (image !== undefined && heldTo(first).every((promise) => keepsPromise(one, promise)) && claim(image, second))
          return [one, image];
      }
      return undefined;
    },
    mappedGroup,
    claim,
    port: (owner, fits) => {
      used ??= new Set([
        ...plan.interfaces.map((one) => one.port),
        ...plan.links.flatMap((link) => link.ends.map((end) => end.port)),
      ]);
      let free = freePorts.get(owner);
      if (free === undefined) freePorts.set(owner, (free = inOrder(owner, used)));
      const at = free.findIndex(fits);
      return at < 0 ? undefined : free.splice(at, 1)[0];
    },
    address: (vlan, near, owner) => {
      const subnet = vlan === undefined ? undefined : subnetFor(vlan, near);
      const unit =
        subnet === undefined || owner === undefined || !isInterface(owner) ? undefined : unitAddress(owner, subnet);
      return addresses.next(vlan, near, unit);
    },
    isOffered: addresses.isGiven,
    vlanId: nextVlanId,
  };
}

/** Where a first leg may be whose image may be the second's: both in their ranges. */
function pairRanges(
  { first, second }: LegMapEntry,
  [firsts, seconds]: readonly [readonly AddressRange[], readonly AddressRange[]],
): readonly AddressRange[] {
  const back = (address: Address): Address =>
    typeof address === 'number'
      ? address - Number(second.network) + Number(first.network)
      : address - BigInt(second.network) + BigInt(first.network);
  return seconds
    .flatMap((range) => common(range, rangeOf(second)))
    .map((range) => ({ first: back(range.first), last: back(range.last) }))
    .flatMap((range) => firsts.flatMap((one) => common(one, range)));
}

function common(a: AddressRange, b: AddressRange): readonly AddressRange[] {
  if (typeof a.first !== typeof b.first || a.first > b.last || a.last < b.first) return [];
  return [{ first: a.first > b.first ? a.first : b.first, last: a.last < b.last ? a.last : b.last }];
}

/** The parts of the ranges whose groups the conventions map to a second leg, where a pair needs one. */
function withImages({ index, sender }: Leg, ranges: readonly AddressRange[]): readonly AddressRange[] {
  if (index !== 0 || sender.legs.length < 2) return [];
  return sender.rig.conventions.groupMap.flatMap(({ first: block }) =>
    ranges.flatMap((range) => common(range, rangeOf(block))),
  );
}

/** The address in a subnet with the last number that most of the device's other interfaces have. */
function unitAddress(via: Interface, { network, length }: Prefix): Address | undefined {
  if (typeof network !== 'number' || length > 24 || length < 8) return undefined;
  const counts = new Map<number, number>();
  for (const { address } of via.device.interfaces) {
    if (typeof address !== 'number' || address === via.address) continue;
    counts.set(address & 0xff, (counts.get(address & 0xff) ?? 0) + 1);
  }
  const [best] = [...counts].sort(([a, x], [b, y]) => y - x || a - b);
  if (best === undefined) return undefined;
  // In a wide subnet the third number stays that of the address that has to go.
  const third =
    typeof via.address === 'number' && networkOf(via.address, length) === network ? via.address & 0xff00 : 0;
  return length === 24 ? network + best[0] : ((network | third) >>> 0) + best[0];
}

const BY_NUMBER = new Intl.Collator('en', { numeric: true });

function inOrder(owner: Switch, used: ReadonlySet<Port | undefined>): Port[] {
  return [...owner.ports.values()].filter((port) => !used.has(port)).sort((a, b) => BY_NUMBER.compare(a.name, b.name));
}
