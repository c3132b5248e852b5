/** What of a plan something else refers to. */
import type { Format, Network, Plan, Unresolved, Vlan } from '../plan/types.js';

/** VLANs that anything refers to: a host, a stream, a port, a link, a switch address, a promise, a querier or a router. */
export function usedVlans(plan: Plan): ReadonlySet<Vlan> {
  const used = new Set<Vlan>();
  const add = (vlan: Vlan | undefined): void => {
    if (vlan !== undefined) used.add(vlan);
  };
  for (const one of plan.interfaces) add(one.vlan);
  for (const leg of plan.legs) add(leg.vlan);
  for (const leg of plan.receiverLegs) add(leg.vlan);
  for (const { sender } of plan.descriptions) for (const leg of sender.legs) add(leg.vlan);
  for (const one of plan.switches) {
    for (const port of one.ports.values()) {
      add(port.access);
      add(port.native);
      if (port.trunk !== undefined && port.trunk !== 'all') for (const vlan of port.trunk) add(vlan);
    }
    for (const held of one.addresses) add(held.vlan);
  }
  for (const link of plan.links) for (const vlan of link.vlans ?? []) add(vlan);
  for (const rig of plan.rigs) for (const promise of rig.house.groups) add(promise.vlan);
  for (const vlan of plan.vlans) {
    const queriers = [...(vlan.igmp?.queriers ?? []), ...(vlan.mld?.queriers ?? [])];
    if (queriers.length > 0 || (vlan.routing?.routers.length ?? 0) > 0) add(vlan);
  }
  return used;
}

/** Networks that anything refers to: a VLAN, a host, a stream, a promise or a PTP domain. */
export function usedNetworks(plan: Plan): ReadonlySet<Network> {
  const used = new Set<Network>();
  const add = (network: Network | undefined): void => {
    if (network !== undefined) used.add(network);
  };
  for (const vlan of plan.vlans) add(vlan.network);
  for (const one of plan.interfaces) add(one.network);
  for (const leg of plan.legs) add(leg.network);
  for (const leg of plan.receiverLegs) add(leg.network);
  for (const { sender } of plan.descriptions) for (const leg of sender.legs) add(leg.network);
  for (const rig of plan.rigs) for (const promise of rig.house.groups) add(promise.network);
  // PTP domains name networks as they are written.
  const named = new Set(
    plan.ptpDomains.flatMap((domain) =>
      Array.isArray(domain.values['networks']) ? (domain.values['networks'] as readonly unknown[]) : [],
    ),
  );
  for (const network of plan.networks) if (named.has(network.name)) add(network);
  return used;
}

/** Formats that a sender or receiver has. */
export function usedFormats(plan: Plan): ReadonlySet<Format> {
  const used = new Set<Format>();
  for (const one of [...plan.senders, ...plan.receivers, ...plan.descriptions.map((description) => description.sender)])
    if (one.format !== undefined) used.add(one.format);
  return used;
}

/** Names that a reference which leads nowhere most likely meant, by the kind of thing wanted. */
export function likelyMeant(unresolved: readonly Unresolved[], wanted: string): ReadonlySet<string> {
  return new Set(
    unresolved.flatMap((lost) => (lost.wanted === wanted && lost.suggestion !== undefined ? [lost.suggestion] : [])),
  );
}
