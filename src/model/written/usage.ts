/** What of a plan something else refers to. */
import { groupBy } from '../../collections/group-by.js';
import type {
  Format,
  Interface,
  Kind,
  Leg,
  Network,
  Plan,
  ReceiverLeg,
  Unresolved,
  Vlan,
  WantedKind,
} from '../../plan/types.js';

/**
 * VLANs that anything refers to: a host, a stream, a port, a link, a switch address, a promise; and unless only others count,
 * those with a querier or a router of their own.
 */
export function usedVlans(plan: Plan, counted: 'all' | 'by-others' = 'all'): ReadonlySet<Vlan> {
  const used = new Set<Vlan>();
  const add = (vlan: Vlan | undefined): void => {
    if (vlan !== undefined && vlan.transit === undefined) used.add(vlan);
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
  for (const rig of plan.rigs) for (const promise of rig.conventions.groups) add(promise.vlan);
  for (const vlan of counted === 'all' ? plan.vlans : []) {
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
  for (const rig of plan.rigs) for (const promise of rig.conventions.groups) add(promise.network);
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

/** VLANs that nothing refers to. */
export function unusedVlans(plan: Plan): readonly Vlan[] {
  return leftOver(plan.vlans, usedVlans(plan), likelyMeant(plan.unresolved, 'vlan'));
}

/** Networks that nothing refers to. */
export function unusedNetworks(plan: Plan): readonly Network[] {
  return leftOver(plan.networks, usedNetworks(plan), likelyMeant(plan.unresolved, 'network'));
}

/** Device kinds of which there is no device. */
export function unusedKinds(plan: Plan): readonly Kind[] {
  const used = new Set(plan.kinds.filter((kind) => kind.used));
  return leftOver(plan.kinds, used, likelyMeant(plan.unresolved, 'kind'));
}

/** Formats with a name that no stream has; of those of one name the first. */
export function unusedFormats(plan: Plan): readonly NamedFormat[] {
  const left = leftOver(plan.formats, usedFormats(plan), likelyMeant(plan.unresolved, 'format')).filter(isNamed);
  return [...groupBy(left, ({ name }) => name).values()].map(([first]) => first);
}

export type NamedFormat = Format & { readonly name: string };

function isNamed(format: Format): format is NamedFormat {
  return format.name !== undefined;
}

/** A name that leads nowhere may have meant one; of two of one name the other one is used. */
function leftOver<T extends { readonly name: string | undefined }>(
  all: readonly T[],
  used: ReadonlySet<T>,
  meant: ReadonlySet<string>,
): readonly T[] {
  const names = new Set([...used].map(({ name }) => name));
  return all.filter(({ name }) => name !== undefined && !meant.has(name) && !names.has(name));
}

/** Names that a reference which leads nowhere most likely meant, by the kind of thing wanted. */
function likelyMeant(unresolved: readonly Unresolved[], kind: WantedKind): ReadonlySet<string> {
  return new Set(unresolved.flatMap(({ wanted, suggestions }) => (wanted.kind === kind ? suggestions : [])));
}
