import {
  byLabel,
  clause,
  commonPractice,
  defineRule,
  linkLabel,
  listNames,
  mark,
  sameMeaning,
  vlansOfPort,
  type Domain,
  type Domains,
  type Plan,
  type Vlan,
} from '../../../src/lint/rule.js';

export default defineRule({
  id: 'vlans/id-twice',
  summary: 'One VLAN id with two meanings in one network',
  severity: 'error',
  sources: [clause('IEEE 802.1Q-2022', '9.6'), commonPractice('one id means one VLAN in the whole network')],
  needs: ['vlanIds'],
  *check({ plan, model }) {
    const taken = new Set(plan.vlans.map((vlan) => vlan.id));
    const found = [...meetings(plan, model.domains)];
    if (found.length === 0) return;
    const users = usersOf(plan);
    // In an order of their own, for each gets another free id.
    for (const { vlans, where, certain } of byLabel(
      found,
      (one) =>
        `${one.vlans[0]?.id ?? ''} ${one.vlans
          .map(({ name }) => name)
          .sort()
          .join(' ')}`,
    )) {
      const label = (vlan: Vlan): string =>
        vlans.some((other) => other.rig !== vlan.rig) ? `${vlan.name} of ${vlan.rig.name}` : vlan.name;
      const sorted = byLabel(vlans, label);
      const [first] = sorted;
      // The one that is least work to move; the later where they are equal.
      const last = [...sorted].reverse().sort((a, b) => (users.get(a) ?? 0) - (users.get(b) ?? 0))[0];
      if (first === undefined || last === undefined) continue;
      const names = sorted.map(label);
      yield {
        subject: `id ${first.id ?? ''}: ${names.join(', ')}`,
        parties: names,
        severity: certain ? 'error' : 'warning',
        what: `VLANs ${listNames(names)} have one id, ${first.id ?? ''}${where}`,
        at: mark(last, `VLAN ${label(last)}: give it another id`, 'id'),
        others: sorted.filter((vlan) => vlan !== last).map((vlan) => mark(vlan, `VLAN ${label(vlan)}`, 'id')),
        onAir: `${certain ? '' : 'where one switch carries both, '}the switches know one VLAN where the plan has ${vlans.length}: its streams, queries and DHCP answers mix, and hosts hear groups and get addresses of the other`,
        fix: `give ${label(last)} an id of its own, here and on every switch${free(plan, taken)}${sorted.length > 2 ? ', and the others too' : ''}`,
        touch: { kind: 'vlan', name: last.name },
      };
    }
  },
});

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
}

function* meetings(plan: Plan, domains: Domains): Iterable<Meeting> {
  const met = new Set<Vlan>();
  for (const { vlans, where } of joined(domains)) {
    for (const vlan of vlans) met.add(vlan);
    yield { vlans, where, certain: true };
  }
  // Links that are stated decide; without them, one network or a rig without networks is taken for one.
  if (domains.linked) return;
  const parallel = legPairs(plan);
  for (const vlans of alike(plan)) {
    const apart = vlans.filter((vlan) => !met.has(vlan));
    const [first] = apart;
    if (first === undefined || apart.length < 2) continue;
    if (first.network !== undefined) yield { vlans: apart, where: ` in network ${first.network.name}`, certain: true };
    else if (!areLegs(apart, parallel))
      yield { vlans: apart, where: ', and nothing says that they are on networks of their own', certain: false };
  }
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
    group.places.add('link' in by ? `link ${linkLabel(by.link)}` : `switch ${by.switch.name}`);
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

function free(plan: Plan, taken: Set<number | undefined>): string {
  const highest = Math.max(...plan.vlans.map((vlan) => (vlan.id !== undefined && vlan.id < 4094 ? vlan.id : 1)));
  for (let id = highest + 1; id <= 4094; id += 1) {
    if (taken.has(id)) continue;
    taken.add(id);
    return `; ${id} is free`;
  }
  return '';
}
