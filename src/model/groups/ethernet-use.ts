import type { Address } from '../../values/address.js';
import type { Mac } from '../../values/mac.js';
import type { Interface, Leg, Plan, Switch, Vlan } from '../../plan/types.js';
import { type Domain, type Domains, vlansOfPort } from '../vlans/index.js';
import type { GroupRepeats } from './group-repeats.js';
import { groupFitness } from './group-fitness.js';
import { aliasedClockGroup, ethernetAddress, floodedEthernetAddress } from './multicast-space/ethernet.js';
import { append } from '../../collections/group-by.js';

/** Groups that share one Ethernet address in one switched domain, with the sender legs that use them there. */
export interface SharedEthernet {
  readonly mac: Mac;
  readonly domain: Domain;
  /** Domains where some of the same legs meet again, because routing brings them there. */
  readonly also: readonly Domain[];
  /** At least two. */
  readonly groups: readonly Address[];
  readonly legs: readonly Leg[];
}

/**
 * Every Ethernet address that several of the given legs' groups share where they meet: in the switched domain they are
 * sent in, or in one that routing brings them to for a receiver.
 */
export function sharedEthernet(
  plan: Plan,
  domains: Domains,
  repeats: GroupRepeats,
  counts: (leg: Leg) => boolean,
): readonly SharedEthernet[] {
  const shared = repeats.sharedEthernet;
  if (shared.size === 0) return [];
  const byMac = new Map<Mac, Leg[]>();
  for (const leg of plan.legs) {
    if (leg.group === undefined) continue;
    const mac = ethernetAddress(leg.group);
    if (shared.has(mac) && counts(leg)) append(byMac, mac, leg);
  }
  const routed = routedTo(plan, domains, shared);
  return [...byMac].flatMap(([mac, legs]) => meetings(mac, legs, domains, routed));
}

/** Domains other than its own that a leg is routed to for a receiver. */
function routedTo(plan: Plan, domains: Domains, shared: ReadonlySet<Mac>): ReadonlyMap<Leg, ReadonlySet<Domain>> {
  const routed = new Map<Leg, Set<Domain>>();
  for (const receiver of plan.receiverLegs) {
    const leg = receiver.takes;
    if (leg?.group === undefined || receiver.group !== leg.group || !shared.has(ethernetAddress(leg.group))) continue;
    const there = domains.switched(receiver);
    if (there === domains.switched(leg) || domains.reach(receiver) !== domains.reach(leg)) continue;
    const found = routed.get(leg);
    if (found === undefined) routed.set(leg, new Set([there]));
    else found.add(there);
  }
  return routed;
}

function meetings(
  mac: Mac,
  legs: readonly Leg[],
  domains: Domains,
  routed: ReadonlyMap<Leg, ReadonlySet<Domain>>,
): readonly SharedEthernet[] {
  const byDomain = new Map<Domain, Leg[]>();
  for (const leg of legs) {
    append(byDomain, domains.switched(leg), leg);
    for (const domain of routed.get(leg) ?? []) append(byDomain, domain, leg);
  }
  const found: (SharedEthernet & { readonly also: Domain[]; readonly known: ReadonlySet<Leg> })[] = [];
  const biggestFirst = [...byDomain].sort(([a, x], [b, y]) => y.length - x.length || (a.title < b.title ? -1 : 1));
  for (const [domain, here] of biggestFirst) {
    const groups = [...new Set(here.flatMap((leg) => leg.group ?? []))];
    if (groups.length < 2) continue;
    const same = found.find(({ known }) => here.every((leg) => known.has(leg)));
    if (same === undefined) found.push({ mac, domain, also: [], groups, legs: here, known: new Set(here) });
    else same.also.push(domain);
  }
  return found;
}

/** Switches that key their tables by Ethernet address, by the switched domains they are known to take part in. */
export function macKeyedSwitches(plan: Plan, domains: Domains): ReadonlyMap<Domain, readonly Switch[]> {
  const found = new Map<Domain, Switch[]>();
  const patched = new Map<Switch, Interface[]>();
  for (const one of plan.interfaces) if (one.port?.switch.snoopingKey === 'mac') append(patched, one.port.switch, one);
  for (const one of plan.switches) {
    if (one.snoopingKey !== 'mac') continue;
    const vlans = new Set<Vlan>();
    for (const port of one.ports.values()) {
      for (const vlan of port.trunk === 'all' ? plan.vlans.filter(({ rig }) => rig === one.rig) : vlansOfPort(port))
        vlans.add(vlan);
    }
    for (const held of one.addresses) if (held.vlan !== undefined) vlans.add(held.vlan);
    const here = new Set<Domain>();
    for (const vlan of vlans) {
      const domain = domains.onSwitch(one, vlan);
      if (domain !== undefined) here.add(domain);
    }
    for (const host of patched.get(one) ?? []) here.add(domains.switched(host));
    for (const domain of here) append(found, domain, one);
  }
  return found;
}

/** Groups that are misplaced, flooded or on a clock's address have a finding of their own. */
export function mayAlias({ group, sender }: Leg): boolean {
  if (group === undefined || floodedEthernetAddress(group)) return false;
  if (typeof group === 'number' && aliasedClockGroup(group) !== undefined) return false;
  const standing = groupFitness(group, sender.rig.house, sender.rig.practice);
  return standing === 'usable' || standing === 'outside-practice';
}
