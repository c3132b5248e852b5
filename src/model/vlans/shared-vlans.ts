/** VLANs that several rigs have in common. */
import { groupBy } from '../../collections/group-by.js';
import type { Vlan } from '../../plan/types.js';
import type { Domains } from './domains.js';
import { sameMeaning } from './trunks.js';
import { UnionFind } from '../../collections/union-find.js';

/**
 * Entries of several rigs that are one VLAN, by a join or because links tie what means the same, in plan order. VLANs that
 * meet by mistake are not among them.
 */
export function sharedVlans({ vlans, domains }: SharedFacts): readonly (readonly Vlan[])[] {
  const shared = new UnionFind<Vlan>();
  let any = false;
  for (const {
    vlans: [a, b],
  } of domains.joins) {
    if (a.rig === b.rig || !sameMeaning(a, b)) continue;
    shared.union(a, b);
    any = true;
  }
  if (!any) return [];
  return [...groupBy(vlans, (vlan) => (shared.has(vlan) ? shared.find(vlan) : undefined)).values()];
}

export interface SharedFacts {
  readonly vlans: readonly Vlan[];
  readonly domains: Domains;
}

/** The other entries of the VLAN that an entry is one of. */
export function otherEntries(shared: readonly (readonly Vlan[])[]): (vlan: Vlan) => readonly Vlan[] {
  if (shared.length === 0) return () => [];
  const classOf = new Map(shared.flatMap((vlans) => vlans.map((vlan) => [vlan, vlans] as const)));
  return (vlan) => (classOf.get(vlan) ?? []).filter((other) => other !== vlan);
}
