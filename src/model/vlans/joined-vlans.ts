/** VLAN entries that a join makes one VLAN, and the one id they should have. */
import { groupBy } from '../../collections/group-by.js';
import { kept } from '../../collections/kept.js';
import type { Plan, Rig, Switch, Vlan } from '../../plan/types.js';
import { isVlanId } from './ids.js';
import { joinedRigs } from './joined-rigs.js';
import { vlansOfPort } from './trunks.js';

/** Entries of one VLAN under several ids. */
export interface SplitVlan {
  readonly vlans: readonly Vlan[];
  /** The id to give to all: one of theirs where no other VLAN of the joined rigs keeps it, else a free one. */
  readonly id: number | undefined;
  /** Entries of other VLANs that have this id today and are to give it up. */
  readonly until: readonly Vlan[];
}

/** Entries of each join class, of joins that tie any. */
export function joinClasses(plan: Pick<Plan, 'joins' | 'vlans'>): readonly (readonly Vlan[])[] {
  if (plan.joins.length === 0) return [];
  return [...groupBy(plan.vlans, ({ joinedAs }): object | undefined => joinedAs).values()];
}

/**
 * Joined VLANs whose entries, one a rig, state different ids. The id that most switches know is kept; those with most to lose choose
 * first, and ids are given once. What is free is asked of `free`, which must not give an id twice.
 */
export function splitVlans(plan: Plan, free: () => number | undefined): readonly SplitVlan[] {
  const split = joinClasses(plan).filter(
    (vlans) =>
      new Set(vlans.flatMap(({ id }) => id ?? [])).size > 1 &&
      new Set(vlans.map(({ rig }) => rig)).size === vlans.length,
  );
  if (split.length === 0) return [];
  const siteOf = joinedRigs(plan);
  const moving = new Set(split.flat());
  const byId = vlansById(plan, siteOf);
  const given = new Map<object, Set<number>>();
  const switches = switchesOf(plan);
  const ranked = split.map((vlans) => ({ vlans, ids: idsOf(vlans, switches), key: keyOf(vlans) }));
  ranked.sort((a, b) => (b.ids[0]?.switches ?? 0) - (a.ids[0]?.switches ?? 0) || (a.key < b.key ? -1 : 1));
  return ranked.map(({ vlans, ids }): SplitVlan => {
    const own = new Set(vlans);
    const [first] = vlans;
    const site = first === undefined ? {} : siteOf(first.rig);
    const taken = given.get(site) ?? new Set<number>();
    given.set(site, taken);
    const others = (id: number): readonly Vlan[] => (byId.get(site)?.get(id) ?? []).filter((vlan) => !own.has(vlan));
    const kept = ids.find(({ id }) => !taken.has(id) && others(id).every((vlan) => moving.has(vlan)))?.id;
    const id = kept ?? free();
    if (id !== undefined) taken.add(id);
    return { vlans, id, until: kept === undefined ? [] : others(kept) };
  });
}

/** How many switches know each VLAN: where its id has to be changed. */
export function switchesOf(plan: Plan): ReadonlyMap<Vlan, ReadonlySet<Switch>> {
  const found = new Map<Vlan, Set<Switch>>();
  const add = (vlan: Vlan | undefined, one: Switch): void => {
    if (vlan !== undefined) kept(found, vlan, () => new Set<Switch>()).add(one);
  };
  for (const one of plan.switches) {
    for (const port of one.ports.values()) for (const vlan of vlansOfPort(port)) add(vlan, one);
    for (const held of one.addresses) add(held.vlan, one);
  }
  return found;
}

/** The ids of the entries, the one that most switches know first. */
function idsOf(
  vlans: readonly Vlan[],
  switches: ReadonlyMap<Vlan, ReadonlySet<Switch>>,
): readonly { readonly id: number; readonly switches: number }[] {
  const counts = new Map<number, number>();
  for (const vlan of vlans) {
    if (vlan.id === undefined || !isVlanId(vlan.id)) continue;
    counts.set(vlan.id, (counts.get(vlan.id) ?? 0) + (switches.get(vlan)?.size ?? 0));
  }
  return [...counts]
    .map(([id, count]) => ({ id, switches: count }))
    .sort((a, b) => b.switches - a.switches || a.id - b.id);
}

function vlansById(
  plan: Plan,
  siteOf: (rig: Rig) => object,
): ReadonlyMap<object, ReadonlyMap<number, readonly Vlan[]>> {
  const sites = groupBy(plan.vlans, ({ rig }) => siteOf(rig));
  return new Map([...sites].map(([site, vlans]) => [site, groupBy(vlans, ({ id }) => id)]));
}

function keyOf(vlans: readonly Vlan[]): string {
  return vlans
    .map(({ name, rig }) => `${name}\n${rig.name}`)
    .sort()
    .join('\n');
}
