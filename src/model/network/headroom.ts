import { addTo } from '../../collections/group-by.js';
import { kept } from '../../collections/kept.js';
import type { Device, Leg, Plan, Port, ReceiverLeg, Rig, Switch, Vlan } from '../../plan/types.js';
import type { Domain, Domains } from '../vlans/index.js';
import { type Rates, type Reception, unusualLegs } from '../streams/index.js';
import { linkRate } from './segment.js';
import { domainsOnWay, type UnicastRoutes } from './unicast-route.js';

export interface Headroom {
  /**
   * Whether every link would hold, within its rig's percentage of its rate, all streams of all the domains it carries at once.
   * Then no link can be too full, in whatever way streams go and whatever one link fails; false means look closer.
   */
  readonly linksHoldAll: (percentOf: (rig: Rig) => number) => boolean;
  /** Whether the slowest member of every aggregate alone would hold all streams of the domains it carries. */
  readonly membersHoldAll: () => boolean;
  /** The same of every host port and the domains its host stands in. */
  readonly portsHoldAll: (percentOf: (rig: Rig) => number) => boolean;
}

/** Bounds on loads from sums alone, far cheaper than the loads themselves. */
export function buildHeadroom(
  plan: Plan,
  domains: Domains,
  rates: Rates,
  reception: () => Reception,
  routeOf: UnicastRoutes,
): Headroom {
  let sums: ReturnType<typeof sumsByDomain> | undefined;
  const sumOf = (domain: Domain): number =>
    (sums ??= sumsByDomain(plan, domains, rates, reception, routeOf)).get(domain)?.bps ?? 0;
  return {
    linksHoldAll: (percentOf) =>
      plan.links.every((link) => {
        const rateBps = linkRate(link);
        if (rateBps === undefined) return true;
        // A routed stream may pass once in each VLAN the link carries.
        return (
          domains.overLink(link).reduce((sum, domain) => sum + sumOf(domain), 0) <=
          (rateBps * percentOf(link.rig)) / 100
        );
      }),
    membersHoldAll: () =>
      plan.links.every((link) => {
        if (link.aggregate === undefined) return true;
        const rateBps = linkRate(link);
        return (
          rateBps === undefined || domains.overLink(link).reduce((sum, domain) => sum + sumOf(domain), 0) <= rateBps
        );
      }),
    portsHoldAll: (percentOf) => {
      const onPort = new Map<Port, number>();
      for (const via of plan.interfaces) {
        const { port } = via;
        const rateBps = port?.rateBps ?? via.rateBps;
        if (port === undefined || rateBps === undefined) continue;
        const sum = (onPort.get(port) ?? 0) + sumOf(domains.switched(via));
        if (sum > (Math.min(rateBps, via.rateBps ?? rateBps) * percentOf(via.device.rig)) / 100) return false;
        onPort.set(port, sum);
      }
      return true;
    },
  };
}

/**
 * Everything sent in a switched domain, everything routed into it for somebody there, and, where several routers stand in
 * it, everything that is routed at all: it may pass on its way from one of them to another.
 */
function sumsByDomain(
  plan: Plan,
  domains: Domains,
  rates: Rates,
  reception: () => Reception,
  routeOf: UnicastRoutes,
): ReadonlyMap<Domain, { readonly bps: number }> {
  const sums = new Map<Domain, { bps: number }>();
  const add = (domain: Domain, leg: Leg): void => {
    const rate = rates.onWire(leg);
    if (rate !== undefined) kept(sums, domain, nothing).bps += rate.onLink;
  };
  const crossing = new Set<Leg>();
  for (const leg of plan.legs) add(domains.switched(leg), leg);
  for (const leg of unusualLegs(plan).groupless) {
    const route = routeOf(leg);
    // A router may send it back into a domain it has passed.
    if (route !== undefined) for (const beyond of domainsOnWay(route).slice(1)) add(beyond, leg);
  }
  // Many inputs have the same choices, and each stream comes once.
  const choices = new Map<Domain, Set<Leg>>();
  const hear = (receiverLeg: ReceiverLeg, leg: Leg): void => {
    if (leg.group === undefined) return;
    const here = domains.switched(receiverLeg);
    if (domains.switched(leg) === here) return;
    const isChosen = receiverLeg.receiver.selection !== undefined;
    if (isChosen && choices.get(here)?.has(leg) === true) return;
    add(here, leg);
    crossing.add(leg);
    if (isChosen) addTo(choices, here, leg);
  };
  for (const receiverLeg of plan.receiverLegs) {
    if (receiverLeg.takes === undefined && receiverLeg.group === undefined) continue;
    if (receiverLeg.takes !== undefined) hear(receiverLeg, receiverLeg.takes);
    else for (const leg of reception().heard(receiverLeg)) hear(receiverLeg, leg);
  }
  if (crossing.size === 0) return sums;
  const between = new Set(
    [...plan.vlans, ...plan.transits]
      .filter(({ routing }) => routing !== undefined && routing.routers.length > 1)
      .flatMap((vlan) => vlan.routing?.routers.map((on) => placeOf(on, vlan, domains)) ?? []),
  );
  for (const domain of between)
    if (domain !== undefined) for (const leg of crossing) if (domains.switched(leg) !== domain) add(domain, leg);
  return sums;
}

function nothing(): { bps: number } {
  return { bps: 0 };
}

function placeOf(on: Switch | Device, vlan: Vlan, domains: Domains): Domain | undefined {
  if ('ports' in on) return domains.onSwitch(on, vlan);
  const foot = on.interfaces.find((one) => one.vlan === vlan);
  return foot === undefined ? undefined : domains.switched(foot);
}
