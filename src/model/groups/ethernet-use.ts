import { addTo } from '../../collections/group-by.js';
import type { Address } from '../../values/address.js';
import type { Mac } from '../../values/mac.js';
import type { Leg, Plan, Switch, Vlan } from '../../plan/types.js';
import { type Domain, type Domains, vlansOfPort } from '../vlans/index.js';
import type { GroupRepeats } from './group-repeats.js';
import { groupFitness } from './group-fitness.js';
import { aliasedClockGroup, ethernetAddress, floodedEthernetAddress } from './multicast-space/ethernet.js';
import { append } from '../../collections/group-by.js';

/** Groups that share one multicast MAC in one switched domain, with the sender legs that use them there. */
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
 * Every multicast MAC that several of the given legs' groups share where they meet: in the switched domain they are
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
    addTo(routed, leg, there);
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

/** How the switches of a switched domain key their tables. */
export interface Keying {
  /** By multicast MAC. */
  readonly byMac: readonly Switch[];
  /** Not stated. */
  readonly silent: readonly Switch[];
  /** True where the plan knows switches there, and each is stated to tell groups of one multicast MAC apart. */
  readonly tellsApart: boolean;
}

/**
 * Of the switches that are known to take part in each switched domain. Where a controller or people say where groups go,
 * nothing hangs on what a switch learns, nor on how it keys that.
 */
export function keyings(plan: Plan, domains: Domains): (domain: Domain) => Keying {
  const found = new Map<Domain, Set<Switch>>();
  const stand = (domain: Domain | undefined, one: Switch): void => {
    if (domain !== undefined) addTo(found, domain, one);
  };
  for (const one of plan.switches) {
    const vlans = new Set<Vlan>();
    for (const port of one.ports.values()) {
      for (const vlan of port.trunk === 'all' ? plan.vlans.filter(({ rig }) => rig === one.rig) : vlansOfPort(port))
        vlans.add(vlan);
    }
    for (const held of one.addresses) if (held.vlan !== undefined) vlans.add(held.vlan);
    for (const vlan of vlans) stand(domains.onSwitch(one, vlan), one);
  }
  for (const one of plan.interfaces) {
    if (one.port !== undefined && one.vlan !== undefined) stand(domains.switched(one), one.port.switch);
  }
  return (domain) => {
    const switches = [...(found.get(domain) ?? [])];
    const asked = switches.filter((one) => forwardsByJoins(one, domain));
    const byMac = asked.filter(({ snoopingKey }) => snoopingKey === 'mac');
    const silent = asked.filter(({ snoopingKey }) => snoopingKey === undefined);
    const isKnown = switches.length > 0 || !forwardsByJoins({ forwarding: undefined }, domain);
    return { byMac, silent, tellsApart: isKnown && byMac.length + silent.length === 0 };
  };
}

function forwardsByJoins({ forwarding }: Pick<Switch, 'forwarding'>, { vlans }: Domain): boolean {
  if (forwarding !== undefined) return forwarding === 'igmp';
  return vlans.length === 0 || vlans.some((vlan) => (vlan.forwarding ?? 'igmp') === 'igmp');
}

/** Groups that are misplaced, flooded or on a clock's address have a finding of their own. */
export function mayAlias({ group, sender }: Leg): boolean {
  if (group === undefined || floodedEthernetAddress(group)) return false;
  if (typeof group === 'number' && aliasedClockGroup(group) !== undefined) return false;
  const standing = groupFitness(group, sender.rig.conventions, sender.rig.practice);
  return standing === 'usable' || standing === 'outside-practice';
}
