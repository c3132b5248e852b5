/** Where one 802.1Q id means two VLANs (IEEE 802.1Q-2022 9.6: the id tells VLANs apart on a trunk). */
import { append, groupBy } from '../../collections/group-by.js';
import { isNonEmpty, type NonEmpty } from '../../collections/non-empty.js';
import { kept } from '../../collections/kept.js';
import { UnionFind } from '../../collections/union-find.js';
import type { Link, Network, Plan, Rig, Switch, Vlan } from '../../plan/types.js';
import type { Domain, Domains } from './domains.js';
import { joinClasses } from './joined-vlans.js';
import { joinedRigs } from './joined-rigs.js';
import { sameMeaning, vlansOfPort } from './trunks.js';

/** VLAN entries of one id that are several VLANs, and what brings them together. */
export type IdMeeting = { readonly id: number; readonly vlans: NonEmpty<Vlan> } & MeetingForm;

export type MeetingForm =
  | { readonly form: 'links'; readonly places: readonly MeetingPlace[] }
  | { readonly form: 'network'; readonly network: Network }
  /** Nothing says that they are on networks of their own. */
  | { readonly form: 'notStated' }
  /** Rigs that meet use the id each for its own; links as planned keep them apart. */
  | { readonly form: 'site' };

export type MeetingPlace = { readonly link: Link } | { readonly switch: Switch };

/** Worst known first: those on links, those on one site, then those that only nothing keeps apart. */
export function* idMeetings(plan: Plan, domains: Domains): Iterable<IdMeeting> {
  const met = new UnionFind<object>();
  for (const meeting of joined(domains)) {
    for (const vlan of meeting.vlans) met.union(meeting, vlan);
    yield meeting;
  }
  yield* onOneSite(plan, met);
  // Links of a rig's switches decide; without them, one network or a rig without networks is taken for one.
  const linked = new Set(plan.links.flatMap(({ rig, ends }) => [rig, ...ends.flatMap((end) => end.switch?.rig ?? [])]));
  if (plan.vlans.every(({ rig }) => linked.has(rig))) return;
  const parallel = legPairs(plan);
  for (const { id, vlans: all } of alike(plan)) {
    const vlans = all.filter((vlan) => !met.has(vlan) && !linked.has(vlan.rig));
    if (!isNonEmpty(vlans) || vlans.length < 2) continue;
    const [{ network }] = vlans;
    if (network !== undefined) yield { id, vlans, form: 'network', network };
    else if (!areLegs(vlans, parallel)) yield { id, vlans, form: 'notStated' };
  }
}

/**
 * Ids that rigs which meet give to VLANs of their own each. What a rig does within itself counts for nothing: red and
 * blue may share their ids. `met`: entries that have met, of which all is said.
 */
function* onOneSite({ vlans, joins, links }: Plan, met: UnionFind<object>): Iterable<IdMeeting> {
  if (joins.length === 0 && links.every(({ ends: [a, b] }) => a.switch?.rig === b.switch?.rig)) return;
  const siteOf = joinedRigs({ joins, links });
  // They are about to get one id: `vlans/joined-ids-differ`.
  const moving = new Set(
    joinClasses({ joins, vlans })
      .filter((own) => new Set(own.flatMap(({ id }) => id ?? [])).size > 1)
      .flat(),
  );
  const settled = vlans.filter((vlan) => !moving.has(vlan));
  for (const site of groupBy(settled, ({ rig }) => siteOf(rig)).values()) {
    for (const [id, same] of groupBy(site, (vlan) => vlan.id)) {
      if (same.every(({ rig }) => rig === same[0].rig)) continue;
      const odd = clashing(meaningsOf(same, met));
      if (isNonEmpty(odd)) yield { id, vlans: odd, form: 'site' };
    }
  }
}

/** Entries that mean one VLAN, by `sameMeaning` in as many steps as there are entries. */
function meaningsOf(vlans: readonly Vlan[], met: UnionFind<object>): Iterable<readonly Vlan[]> {
  const one = new UnionFind<object>();
  const byName = new Map<string, [Vlan, ...Vlan[]]>();
  const bySubnet = new Map<string, Vlan>();
  for (const vlan of vlans) {
    one.add(vlan);
    if (vlan.joinedAs !== undefined) one.union(vlan.joinedAs, vlan);
    if (met.has(vlan)) one.union(met.find(vlan), vlan);
    append(byName, vlan.name, vlan);
    if (vlan.subnet === undefined) continue;
    const key = `${vlan.subnet.network}/${vlan.subnet.length}`;
    one.union(
      kept(bySubnet, key, () => vlan),
      vlan,
    );
  }
  for (const [first, ...rest] of byName.values()) {
    if ([first, ...rest].every(({ subnet }) => subnet !== undefined)) continue;
    for (const vlan of rest) one.union(first, vlan);
  }
  return groupBy(vlans, (vlan) => one.find(vlan)).values();
}

/**
 * Meanings that one rig has and another has not, where that one has another of its own. Sorted by the number of their
 * rigs, sets of rigs that all nest in one another show that no two rigs differ.
 */
function clashing(meanings: Iterable<readonly Vlan[]>): readonly Vlan[] {
  const known = [...meanings].map((vlans) => ({ vlans, rigs: new Set<Rig>(vlans.map(({ rig }) => rig)) }));
  const rigs = new Set(known.flatMap((one) => [...one.rigs]));
  known.sort((a, b) => a.rigs.size - b.rigs.size);
  const nest = known.every((one, index) => {
    const wider = known[index + 1];
    return wider === undefined || [...one.rigs].every((rig) => wider.rigs.has(rig));
  });
  return nest ? [] : known.flatMap((one) => (one.rigs.size === rigs.size ? [] : one.vlans));
}

/** Entries of one id that the network really makes one VLAN. */
function joined(domains: Domains): readonly IdMeeting[] {
  const joins = domains.joins.flatMap(({ vlans: [a, b], by }) =>
    a.id === undefined || a.id !== b.id || sameMeaning(a, b) || (a.rig === b.rig && a.name === b.name)
      ? []
      : [{ id: a.id, vlans: [a, b], by, domain: domains.switched({ vlan: a, network: undefined }) }],
  );
  return [...groupBy(joins, ({ domain }): Domain => domain).values()].flatMap((inDomain) =>
    [...groupBy(inDomain, ({ id }) => id)].flatMap(([id, own]): readonly IdMeeting[] => {
      const vlans = [...new Set(own.flatMap((one) => one.vlans))];
      const places = own.flatMap(({ by }) => ('join' in by ? [] : [by]));
      return isNonEmpty(vlans) ? [{ id, vlans, form: 'links', places }] : [];
    }),
  );
}

/** Entries of one id in one network of one rig; entries that share a name too are one entry written twice. */
function alike({ vlans }: Plan): readonly { readonly id: number; readonly vlans: readonly Vlan[] }[] {
  const places = groupBy(vlans, ({ id, network, rig }): object | undefined =>
    id === undefined ? undefined : (network ?? rig),
  );
  return [...places.values()].flatMap((own) =>
    [...groupBy(own, ({ id }) => id)].map(([id, same]) => ({
      id,
      vlans: [...groupBy(same, ({ name }) => name).values()].map(([first]) => first),
    })),
  );
}

/** VLANs that carry the two legs of one stream: the two sides of a redundant pair, which may well share their ids. */
function legPairs(plan: Plan): ReadonlyMap<Vlan, Vlan> {
  const pairs = new Map<Vlan, Vlan>();
  for (const { legs } of plan.senders) {
    const [first, second] = legs;
    if (first?.vlan === undefined || second?.vlan === undefined || first.vlan === second.vlan) continue;
    pairs.set(first.vlan, second.vlan).set(second.vlan, first.vlan);
  }
  return pairs;
}

function areLegs(vlans: readonly Vlan[], parallel: ReadonlyMap<Vlan, Vlan>): boolean {
  const set = new Set<Vlan | undefined>(vlans);
  return vlans.some((vlan) => set.has(parallel.get(vlan)));
}

/** Of VLANs that clash, those that are least work to move; the later where it is equal. Of several rigs on a site, one moves what it has. */
export function leastWork(plan: Plan): (vlans: NonEmpty<Vlan>, site: boolean) => NonEmpty<Vlan> {
  const users = vlanUsers(plan);
  const work = (some: NonEmpty<Vlan>): number => some.reduce((sum, vlan) => sum + (users.get(vlan) ?? 0), 0);
  return (vlans, site) => {
    const choices = groupBy(vlans, (vlan): object => (site ? vlan.rig : vlan)).values();
    // None is more work than all.
    return [...choices].reduce((least, one) => (work(one) <= work(least) ? one : least), vlans);
  };
}

/** How many hosts and ports each VLAN has. */
function vlanUsers(plan: Plan): ReadonlyMap<Vlan, number> {
  const users = new Map<Vlan, number>();
  const add = (vlan: Vlan | undefined): void => {
    if (vlan !== undefined) users.set(vlan, (users.get(vlan) ?? 0) + 1);
  };
  for (const one of plan.interfaces) add(one.vlan);
  for (const one of plan.switches)
    for (const port of one.ports.values()) for (const vlan of new Set(vlansOfPort(port))) add(vlan);
  return users;
}
