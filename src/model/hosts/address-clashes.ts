/** Owners of one address that meet (RFC 5227 §1, RFC 4862 §5.4). */
import { append } from '../../collections/group-by.js';
import { areSeveral, type Several } from '../../collections/non-empty.js';
import { ascending, byLabel } from '../../collections/order.js';
import { UnionFind } from '../../collections/union-find.js';
import type { Network, Rig } from '../../plan/types.js';
import { inPrefix, isIPv4, type Address } from '../../values/address.js';
import type { Domains } from '../vlans/index.js';
import { forwards, gatewayFor, holderLabel, rigOf, subnetFor } from './addressing.js';
import { hostAddressFault } from './host-addresses.js';
import { domainOfOwner, firstOfBonds, oneBoxWrittenTwice, standsNowhere } from './owner-domain.js';
import { isInterface, type Owner, type Owners } from './owners.js';
import { isLinkLocal } from './special-purpose.js';
import type { UnicastReach } from './unicast-reach.js';

export interface AddressClash {
  readonly address: Address;
  /** Sorted by label; at least two labels differ. */
  readonly owners: Several<Owner>;
  /** Labels of the owners, which tell apart boxes of two rigs that share a name. */
  readonly label: (owner: Owner) => string;
  /** True where they meet; false where only the rig joins them. */
  readonly meets: boolean;
  /** They stand in parts of one VLAN that nothing joins today: they meet as it is meant. */
  readonly cut: boolean;
  /** True where they meet for all the plan says, because one of them stands nowhere. */
  readonly assumed: boolean;
  /** Routers that hold their VLAN's gateway: nothing says they share it. */
  readonly unsaidGateway: boolean;
  /** All state one MAC. */
  readonly oneMac: boolean;
}

export interface ClashParts {
  readonly owners: Owners;
  readonly domains: Domains;
  readonly unicastReach: UnicastReach;
}

/** IPv4 before IPv6, then by value, whatever the order of the plan. Gateways that routers share are none. */
export function addressClashes(parts: ClashParts): readonly AddressClash[] {
  const { owners } = parts; // lists are made where something repeats
  return [...owners.repeatedAddresses]
    .sort((a, b) => Number(isIPv4(b)) - Number(isIPv4(a)) || ascending(a, b))
    .flatMap((address) => clashesOf(address, owners.byAddress.get(address) ?? [], parts));
}

function clashesOf(address: Address, owners: readonly Owner[], parts: ClashParts): readonly AddressClash[] {
  if (hostAddressFault(address)?.severity === 'error') return []; // hosts/special-purpose: nobody can use it anyway
  const held = firstOfBonds(owners.filter((owner) => !takesGateway(owner, address)));
  if (held.length < 2) return [];
  const certain = unite(address, held, parts);
  const meeting = withNowhere(certain, held);
  const near = nearness(address, held, meeting);
  const clusters = new Map<object, [Owner, ...Owner[]]>();
  for (const owner of held) append(clusters, near.find(owner), owner);
  return [...clusters.values()].flatMap((cluster): readonly AddressClash[] => {
    const label = labelIn(cluster);
    if (new Set(cluster.map(label)).size < 2 || oneBoxWrittenTwice(cluster)) return [];
    const sorted = byLabel(cluster, label);
    const oneMac = sorted.every(({ mac }) => mac !== undefined && mac === sorted[0].mac);
    const gateway = onSharedGateway(address, cluster);
    if (!areSeveral(sorted) || (gateway && oneMac)) return [];
    const meets = anyMeet(cluster, meeting);
    return [
      {
        address,
        owners: sorted,
        label,
        meets,
        cut: !meets && shareVlan(cluster),
        assumed: meets && !anyMeet(cluster, certain),
        unsaidGateway: gateway && sorted.some(({ mac }) => mac === undefined),
        oneMac,
      },
    ];
  });
}

function anyMeet(owners: readonly Owner[], met: UnionFind<object>): boolean {
  return new Set(owners.map((owner) => met.find(owner))).size < owners.length;
}

function shareVlan(owners: readonly Owner[]): boolean {
  const vlans = owners.flatMap(({ vlan }) => vlan ?? []);
  return new Set(vlans).size < vlans.length;
}

/** Boxes of two rigs that share a name are told apart by the rig: only an ancestor of both plans makes them one box. */
function labelIn(owners: readonly Owner[]): (owner: Owner) => string {
  const names = new Map<string, Rig>();
  let shared = false;
  for (const owner of owners) {
    const rig = names.get(holderLabel(owner));
    if (rig !== undefined && rig !== rigOf(owner)) shared = true;
    names.set(holderLabel(owner), rigOf(owner));
  }
  return shared ? (owner) => `${holderLabel(owner)} of ${rigOf(owner).name}` : holderLabel;
}

/** Owners that certainly meet: on one box, in one switched domain, or in VLANs joined by routing. */
function unite(address: Address, held: readonly Owner[], { domains, unicastReach }: ClashParts): UnionFind<object> {
  const met = new UnionFind<object>();
  const networks = new Set<Network>();
  const open = new Set<object>();
  for (const owner of held) {
    const { vlan } = owner;
    if (vlan === undefined && isInterface(owner) && owner.network !== undefined) networks.add(owner.network);
    if (vlan !== undefined && standing(owner, address) === 'open') open.add(unicastReach.joined(vlan));
  }
  for (const owner of held) {
    const { vlan } = owner;
    met.add(owner);
    if (isInterface(owner) && !isLinkLocal(address)) met.union(owner.device, owner);
    if (vlan === undefined) {
      if (isInterface(owner) && owner.network !== undefined) met.union(owner.network, owner);
      continue;
    }
    met.union(domainOfOwner(owner, domains), owner);
    if (vlan.network !== undefined && networks.has(vlan.network)) met.union(vlan.network, owner);
    const reach = unicastReach.joined(vlan);
    if (!isLinkLocal(address) && standing(owner, address) !== 'stray' && open.has(reach)) met.union(reach, owner);
  }
  return met;
}

/** The same where an owner that the plan places nowhere may meet any. */
function withNowhere(certain: UnionFind<object>, held: readonly Owner[]): UnionFind<object> {
  const nowhere = held.find(standsNowhere);
  if (nowhere === undefined) return certain;
  const met = new UnionFind<object>();
  for (const owner of held) {
    met.union(certain.find(owner), owner);
    met.union(nowhere, owner);
  }
  return met;
}

/** Those that meet, and those of one rig where a VLAN states no subnet. */
function nearness(address: Address, held: readonly Owner[], meeting: UnionFind<object>): UnionFind<object> {
  const near = new UnionFind<object>();
  for (const owner of held) {
    near.union(meeting.find(owner), owner);
    // One VLAN entry is one network as meant, whatever trunk leaves it out.
    if (owner.vlan !== undefined && standing(owner, address) !== 'stray') near.union(owner.vlan, owner);
  }
  if (isLinkLocal(address)) return near;
  const rigs = new Set(held.filter((owner) => standing(owner, address) === 'open').map(rigOf));
  for (const owner of held) {
    if (standing(owner, address) !== 'stray' && rigs.has(rigOf(owner))) near.union(rigOf(owner), owner);
  }
  return near;
}

/** `open`: its VLAN states no subnet. `stray`: outside it, which is `hosts/outside-subnet`'s to say. */
function standing(owner: Owner, address: Address): 'fits' | 'stray' | 'open' {
  const subnet = owner.vlan === undefined ? undefined : subnetFor(owner.vlan, address);
  return subnet === undefined ? 'open' : inPrefix(address, subnet) ? 'fits' : 'stray';
}

/** `subnets/gateway-taken` reports these. */
function takesGateway(owner: Owner, address: Address): boolean {
  return owner.vlan !== undefined && !forwards(owner) && gatewayFor(owner.vlan, address)?.address === address;
}

/** Whether all are routers of one VLAN that hold its gateway: one MAC says that they share it (RFC 9568 §7.3). */
function onSharedGateway(address: Address, owners: readonly Owner[]): boolean {
  const vlan = owners[0]?.vlan;
  if (vlan === undefined || gatewayFor(vlan, address)?.address !== address) return false;
  return owners.every((owner) => owner.vlan === vlan && forwards(owner));
}
