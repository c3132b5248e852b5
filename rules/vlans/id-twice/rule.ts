import {
  byLabel,
  clause,
  commonPractice,
  defineRule,
  groupBy,
  joinClasses,
  joinedRigs,
  linkLabel,
  listNames,
  mark,
  sameMeaning,
  UnionFind,
  vlansOfPort,
  withRig,
  type Domain,
  type Domains,
  type Plan,
  type Rig,
  type Vlan,
} from '../../../src/lint/rule.js';

export default defineRule({
  id: 'vlans/id-twice',
  summary: 'One VLAN id with two meanings in one network',
  severity: 'error',
  sources: [clause('IEEE 802.1Q-2022', '9.6'), commonPractice('one id means one VLAN in the whole network')],
  needs: ['vlanIds'],
  *check({ plan, model }) {
    const found = [...meetings(plan, model.domains)];
    if (found.length === 0) return;
    const users = usersOf(plan);
    // In an order of their own, for each gets another free id.
    for (const { vlans, where, certain, apart } of byLabel(
      found,
      (one) =>
        `${one.vlans[0]?.id ?? ''} ${one.vlans
          .map(({ name }) => name)
          .sort()
          .join(' ')}`,
    )) {
      const label = (vlan: Vlan): string => (vlans.some((other) => other.rig !== vlan.rig) ? withRig(vlan) : vlan.name);
      const sorted = byLabel(vlans, label);
      const [first] = sorted;
      // The one that is least work to move; the later where they are equal. Of several rigs, one moves what it has.
      const work = (some: readonly Vlan[]): number => some.reduce((sum, vlan) => sum + (users.get(vlan) ?? 0), 0);
      const moves = [...(apart ? groupBy(sorted, ({ rig }) => rig).values() : sorted.map((vlan) => [vlan]))]
        .reverse()
        .sort((a, b) => work(a) - work(b))[0];
      const last = moves?.at(-1);
      if (first === undefined || moves === undefined || last === undefined) continue;
      const names = sorted.map(label);
      const free = model.proposals.vlanId();
      yield {
        subject: `id ${first.id ?? ''}: ${names.join(', ')}`,
        parties: names,
        severity: certain ? 'error' : 'warning',
        what: apart
          ? `id ${first.id ?? ''} has ${vlans.length > 2 ? 'several' : 'two'} meanings on one site: ${listNames(names)}`
          : `VLANs ${listNames(names)} have one id, ${first.id ?? ''}${where}`,
        at: mark(last, `VLAN ${label(last)}: give it another id`, 'id'),
        others: sorted.filter((vlan) => vlan !== last).map((vlan) => mark(vlan, `VLAN ${label(vlan)}`, 'id')),
        onAir: `${certain ? '' : apart ? 'nothing while links and trunks keep them apart; with the first trunk that carries all, or a box patched to the switch of the other rig, ' : 'where one switch carries both, '}the switches know one VLAN where the plan has ${vlans.length}: its streams, queries and DHCP answers mix, and hosts hear groups and get addresses of the other`,
        fix: `give ${label(last)} an id of its own, here and on every switch${free === undefined ? '' : `; ${free} is free`}${restWords(sorted, moves, apart)}`,
        touch: { kind: 'vlan', name: last.name },
      };
    }
  },
});

function restWords(all: readonly Vlan[], moves: readonly Vlan[], apart: boolean): string {
  if (!apart) return all.length > 2 ? ', and the others too' : '';
  const own = moves.slice(0, -1).map(withRig);
  const rigs = new Set(all.map(({ rig }) => rig)).size;
  const rest = [...own, ...(rigs > 2 ? [`those of all rigs but one`] : [])];
  return rest.length === 0 ? '' : `; the same for ${listNames(rest)}`;
}

/** How many hosts and ports each VLAN has. */
function usersOf(plan: Plan): ReadonlyMap<Vlan, number> {
  const users = new Map<Vlan, number>();
  const add = (vlan: Vlan | undefined): void => {
    if (vlan !== undefined) users.set(vlan, (users.get(vlan) ?? 0) + 1);
  };
  for (const one of plan.interfaces) add(one.vlan);
  for (const one of plan.switches)
    for (const port of one.ports.values()) for (const vlan of new Set(vlansOfPort(port))) add(vlan);
  return users;
}

interface Meeting {
  readonly vlans: readonly Vlan[];
  readonly where: string;
  readonly certain: boolean;
  /** VLANs of rigs that are joined, which links as planned keep apart. */
  readonly apart: boolean;
}

function* meetings(plan: Plan, domains: Domains): Iterable<Meeting> {
  const met = new UnionFind<object>();
  for (const { vlans, where } of joined(domains)) {
    for (const vlan of vlans) met.union(vlans, vlan);
    yield { vlans, where, certain: true, apart: false };
  }
  yield* onOneSite(plan, met);
  // Links that are stated decide; without them, one network or a rig without networks is taken for one.
  if (domains.linked) return;
  const parallel = legPairs(plan);
  for (const vlans of alike(plan)) {
    const apart = vlans.filter((vlan) => !met.has(vlan));
    const [first] = apart;
    if (first === undefined || apart.length < 2) continue;
    if (first.network !== undefined)
      yield { vlans: apart, where: ` in network ${first.network.name}`, certain: true, apart: false };
    else if (!areLegs(apart, parallel))
      yield {
        vlans: apart,
        where: ', and nothing says that they are on networks of their own',
        certain: false,
        apart: false,
      };
  }
}

/**
 * Ids that rigs which meet give to VLANs of their own each. What a rig does within itself counts for nothing: red and
 * blue may share their ids. `met`: entries that have met, of which all is said.
 */
function* onOneSite({ vlans, joins, links }: Plan, met: UnionFind<object>): Iterable<Meeting> {
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
    for (const same of groupBy(site, ({ id }) => id).values()) {
      if (same.every(({ rig }) => rig === same[0]?.rig)) continue;
      const odd = clashing(meaningsOf(same, met));
      if (odd.length > 0) yield { vlans: odd, where: '', certain: false, apart: true };
    }
  }
}

/** Entries that mean one VLAN, by `sameMeaning` in as many steps as there are entries. */
function meaningsOf(vlans: readonly Vlan[], met: UnionFind<object>): Iterable<readonly Vlan[]> {
  const one = new UnionFind<object>();
  const byName = new Map<string, Vlan[]>();
  const bySubnet = new Map<string, Vlan>();
  for (const vlan of vlans) {
    one.add(vlan);
    if (vlan.joinedAs !== undefined) one.union(vlan.joinedAs, vlan);
    if (met.has(vlan)) one.union(met.find(vlan), vlan);
    const namesakes = byName.get(vlan.name);
    if (namesakes === undefined) byName.set(vlan.name, [vlan]);
    else namesakes.push(vlan);
    if (vlan.subnet === undefined) continue;
    const key = `${vlan.subnet.network}/${vlan.subnet.length}`;
    const other = bySubnet.get(key);
    if (other === undefined) bySubnet.set(key, vlan);
    else one.union(other, vlan);
  }
  for (const [first, ...rest] of byName.values()) {
    if (first === undefined || [first, ...rest].every(({ subnet }) => subnet !== undefined)) continue;
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
function* joined(domains: Domains): Iterable<{ readonly vlans: readonly Vlan[]; readonly where: string }> {
  const groups = new Map<Domain, Map<number, { readonly vlans: Set<Vlan>; readonly places: Set<string> }>>();
  for (const {
    vlans: [a, b],
    by,
  } of domains.joins) {
    if (a.id === undefined || a.id !== b.id || sameMeaning(a, b) || (a.rig === b.rig && a.name === b.name)) continue;
    const domain = domains.switched({ vlan: a, network: undefined });
    const byId = groups.get(domain) ?? new Map<number, { readonly vlans: Set<Vlan>; readonly places: Set<string> }>();
    groups.set(domain, byId);
    const group = byId.get(a.id) ?? { vlans: new Set<Vlan>(), places: new Set<string>() };
    byId.set(a.id, group);
    group.vlans.add(a).add(b);
    if ('link' in by) group.places.add(`link ${linkLabel(by.link)}`);
    else if ('switch' in by) group.places.add(`switch ${by.switch.name}`);
  }
  for (const { vlans, places } of [...groups.values()].flatMap((byId) => [...byId.values()]))
    yield {
      vlans: [...vlans],
      where: `, and meet on ${listNames(
        byLabel([...places], (place) => place),
        3,
      )}`,
    };
}

/** Entries of one id in one network of one rig; entries that share a name too are one entry written twice. */
function alike(plan: Plan): readonly (readonly Vlan[])[] {
  const groups = new Map<object, Map<number, Map<string, Vlan>>>();
  for (const vlan of plan.vlans) {
    if (vlan.id === undefined) continue;
    const where = vlan.network ?? vlan.rig;
    const byId = groups.get(where) ?? new Map<number, Map<string, Vlan>>();
    groups.set(where, byId);
    const byName = byId.get(vlan.id) ?? new Map<string, Vlan>();
    byId.set(vlan.id, byName);
    if (!byName.has(vlan.name)) byName.set(vlan.name, vlan);
  }
  return [...groups.values()].flatMap((byId) => [...byId.values()].map((byName) => [...byName.values()]));
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
