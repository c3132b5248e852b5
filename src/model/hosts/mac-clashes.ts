/** Owners of one MAC that should not share it (RFC 9542 §2.1). */
import { addTo, groupBy } from '../../collections/group-by.js';
import { areSeveral, type Several } from '../../collections/non-empty.js';
import { byLabel } from '../../collections/order.js';
import { UnionFind } from '../../collections/union-find.js';
import type { Device, Interface } from '../../plan/types.js';
import type { Mac } from '../../values/mac.js';
import type { Domains } from '../vlans/index.js';
import { holderLabel } from './addressing.js';
import { isGroupMac, isLocalMac, isVirtualRouterMac } from './mac-kinds.js';
import { domainOfOwner, firstOfBonds, oneBoxWrittenTwice, standsNowhere } from './owner-domain.js';
import { isInterface, type Owner, type Owners } from './owners.js';

export interface MacClash {
  readonly mac: Mac;
  /** Sorted by label. */
  readonly stations: Several<Owner>;
  /** True where two of them share a switched domain, or may because one stands nowhere. */
  readonly meets: boolean;
  /** True where they meet only because one stands nowhere. */
  readonly assumed: boolean;
}

export interface MacParts {
  readonly owners: Owners;
  readonly domains: Domains;
}

/** MACs that no interface can have are left to `hosts/unusable-mac`. */
export function macClashes({ owners, domains }: MacParts): readonly MacClash[] {
  return [...owners.repeatedMacs]
    .filter((mac) => mac !== 0 && !isGroupMac(mac))
    .flatMap((mac) => clashesOf(mac, owners.byMac.get(mac) ?? [], domains));
}

function clashesOf(mac: Mac, owners: readonly Owner[], domains: Domains): readonly MacClash[] {
  const stations = stationsOf(firstOfBonds(owners));
  if (stations.length < 2 || oneBoxWrittenTwice(stations) || new Set(stations.map(holderLabel)).size < 2) return [];
  const certain = inOneDomain(
    stations.filter((owner) => !standsNowhere(owner)),
    domains,
  );
  const meeting = inOneDomain(stations, domains);
  // A made-up MAC need be unique in its own network only; a virtual router's is meant to repeat in every VLAN.
  if (isLocalMac(mac) || isVirtualRouterMac(mac))
    return inOneNetwork(stations, domains).flatMap((list) => {
      const sorted = byLabel(list, holderLabel);
      const assumed = !certain.some((known) => known.some((owner) => list.includes(owner)));
      const meets = inOneDomain(list, domains).length > 0;
      return areSeveral(sorted) ? [{ mac, stations: sorted, meets, assumed: meets && assumed }] : [];
    });
  const sorted = byLabel(stations, holderLabel);
  if (entryCopied(stations) || !areSeveral(sorted)) return [];
  const meets = meeting.length > 0;
  return [{ mac, stations: sorted, meets, assumed: meets && certain.length === 0 }];
}

/** Owners that share a switched domain, in lists of two and more; one that stands nowhere may be in any. */
function inOneDomain(stations: readonly Owner[], domains: Domains): readonly (readonly Owner[])[] {
  const met = new UnionFind<object>();
  const nowhere = stations.find(standsNowhere);
  for (const owner of stations) {
    if (nowhere !== undefined) met.union(nowhere, owner);
    if (!standsNowhere(owner)) met.union(domainOfOwner(owner, domains), owner);
  }
  const lists = [...groupBy(stations, (owner) => met.find(owner)).values()];
  return lists.filter((list) => list.length > 1 && !entryCopied(list));
}

/** The same where one VLAN entry is one network as meant, though nothing joins its parts today. */
function inOneNetwork(stations: readonly Owner[], domains: Domains): readonly (readonly Owner[])[] {
  const near = new UnionFind<object>();
  for (const list of [...inOneDomain(stations, domains), ...stations.map((owner) => [owner])])
    for (const owner of list) {
      near.union(list[0] ?? owner, owner);
      if (owner.vlan !== undefined) near.union(owner.vlan, owner);
    }
  const lists = [...groupBy(stations, (owner) => near.find(owner)).values()];
  return lists.filter((list) => list.length > 1 && !entryCopied(list));
}

/** One of each set of owners that share a MAC by design: addresses of one switch, VLAN interfaces on one port. */
function stationsOf(owners: readonly Owner[]): readonly Owner[] {
  const unpatched = new Set<Device>();
  for (const owner of owners) if (isInterface(owner) && owner.port === undefined) unpatched.add(owner.device);
  const seen = new Map<object, Set<unknown>>();
  return owners.filter((owner) => {
    const box = isInterface(owner) ? owner.device : owner.switch;
    const port = isInterface(owner) ? portOf(owner, unpatched.has(owner.device)) : undefined;
    const again = seen.get(box)?.has(port) === true;
    addTo(seen, box, port);
    return !again;
  });
}

/** Its switch port; where a device does not state them all, its leg of the redundant pair, for legs need two ports. */
function portOf(one: Interface, unpatched: boolean): unknown {
  return unpatched ? one.network?.leg : one.port;
}

/** Same address too: `hosts/duplicate-address` reports the copied entry, or it is a shared gateway. */
function entryCopied(owners: readonly Owner[]): boolean {
  const address = owners[0]?.address;
  return address !== undefined && owners.every((owner) => owner.address === address);
}
