import type { Network, Plan, ReceiverLeg, Vlan } from '../../plan/types.js';
import { vlansOfPort } from '../vlans/index.js';

/**
 * Whether the plan keeps the legs of all its receptions so far apart that no single failure can take two of them: every
 * receiver takes each leg on another network, and no switch, link, shared risk, power feed or querying device serves two
 * networks. A look at the plan's entries, far cheaper than the failures themselves; false means look closer.
 */
export function legsKeptApart(plan: Plan): boolean {
  return plan.receivers.every(({ legs }) => onOwnNetworks(legs)) && oneNetworkEach(plan);
}

function onOwnNetworks(legs: readonly ReceiverLeg[]): boolean {
  const [first, second] = legs;
  // Nearly every receiver of a large plan: no list is made of its two legs.
  if (legs.length === 2 && first?.takes !== undefined && second?.takes !== undefined) {
    return isOnNetworkOfStream(first) && isOnNetworkOfStream(second) && first.network !== second.network;
  }
  const taken = legs.filter((leg) => leg.takes !== undefined);
  if (taken.length === 0) return true;
  if (taken.length < 2 || !taken.every(isOnNetworkOfStream)) return false;
  return new Set(taken.map((leg) => leg.network)).size === taken.length;
}

function isOnNetworkOfStream({ network, takes }: ReceiverLeg): boolean {
  return network !== undefined && takes?.network === network;
}

function oneNetworkEach(plan: Plan): boolean {
  const served = new Map<unknown, Network>();
  /** False when the thing serves another network already, or the VLAN's network is not known. */
  const serve = (thing: unknown, network: Network | undefined): boolean => {
    if (network === undefined) return false;
    const known = served.get(thing);
    if (known === undefined) served.set(thing, network);
    return known === undefined || known === network;
  };
  const networkOf = (vlans: Iterable<Vlan>, thing: unknown): boolean => {
    for (const vlan of vlans) if (!serve(thing, vlan.network)) return false;
    return true;
  };
  for (const one of plan.switches) {
    let before: readonly Vlan[] | undefined;
    for (const port of one.ports.values()) {
      if (port.trunk === 'all') return false;
      // Ports of one range share their entry: look at each entry once.
      if (port.trunk === undefined && port.native === undefined) {
        if (port.access !== undefined && !serve(one, port.access.network)) return false;
      } else if (port.trunk !== before && !networkOf(vlansOfPort(port), one)) return false;
      before = port.trunk;
    }
    for (const held of one.addresses) if (held.vlan !== undefined && !serve(one, held.vlan.network)) return false;
  }
  for (const via of plan.interfaces)
    if (via.port !== undefined && via.vlan !== undefined && !serve(via.port.switch, via.vlan.network)) return false;
  for (const vlan of plan.vlans) {
    for (const { on } of [...(vlan.igmp?.queriers ?? []), ...(vlan.mld?.queriers ?? [])])
      if (on !== undefined && !serve(on, vlan.network)) return false;
    for (const router of vlan.routing?.routers ?? []) if (!serve(router, vlan.network)) return false;
  }
  for (const link of plan.links) {
    const networks = link.ends.map((end) => (end.switch === undefined ? undefined : served.get(end.switch)));
    for (const network of networks) for (const risk of link.risks) if (!serve(`risk ${risk}`, network)) return false;
    if (networks[0] !== networks[1]) return false;
  }
  for (const one of plan.switches) {
    const network = served.get(one);
    for (const feed of one.power) if (network !== undefined && !serve(`feed ${feed}`, network)) return false;
  }
  // A box at the end of both legs stands on both networks: its only feed does too.
  return plan.devices.every(({ power }) => power.length !== 1);
}
