/** What of a plan something else refers to. */
import type {
  Format,
  Interface,
  Leg,
  Network,
  Plan,
  ReceiverLeg,
  Unresolved,
  WantedKind,
  Vlan,
} from '../../plan/types.js';

/** VLANs that anything refers to: a host, a stream, a port, a link, a switch address, a promise, a querier or a router. */
export function usedVlans(plan: Plan): ReadonlySet<Vlan> {
  const used = new Set<Vlan>();
  const add = (vlan: Vlan | undefined): void => {
    if (vlan !== undefined) used.add(vlan);
  };
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
  // The long lists last: mostly every VLAN is known to be used before they are over, or even before they begin.
  for (const list of placed(plan)) {
    for (const { vlan } of list) {
      if (used.size === plan.vlans.length) return used;
      add(vlan);
    }
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
  for (const rig of plan.rigs) for (const promise of rig.house.groups) add(promise.network);
  for (const domain of plan.ptpDomains) for (const network of domain.networks ?? []) add(network);
  for (const list of placed(plan)) {
    for (const { network } of list) {
      if (used.size === plan.networks.length) return used;
      add(network);
    }
  }
  return used;
}

/** Everything that stands in a VLAN or on a network. */
function placed({ interfaces, legs, receiverLegs, descriptions }: Plan): readonly (readonly Placed[])[] {
  return [interfaces, legs, receiverLegs, ...descriptions.map(({ sender }) => sender.legs)];
}

type Placed = Interface | Leg | ReceiverLeg;

/** Formats that a sender or receiver has. */
export function usedFormats(plan: Plan): ReadonlySet<Format> {
  const used = new Set<Format>();
  const left = new Set(plan.formats);
  for (const list of [plan.senders, plan.receivers, plan.descriptions.map(({ sender }) => sender)]) {
    for (const { format } of list) {
      if (left.size === 0) return used;
      if (format === undefined || used.has(format)) continue;
      used.add(format);
      left.delete(format);
    }
  }
  return used;
}

/** Names that a reference which leads nowhere most likely meant, by the kind of thing wanted. */
export function likelyMeant(unresolved: readonly Unresolved[], wanted: WantedKind): ReadonlySet<string> {
  return new Set(unresolved.flatMap((lost) => (lost.wanted.kind === wanted ? lost.suggestions : [])));
}
