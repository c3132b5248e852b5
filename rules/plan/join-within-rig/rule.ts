import {
  byLabel,
  commonPractice,
  defineRule,
  joinClasses,
  listNames,
  mark,
  withRig,
  type WordedDraft,
  type Join,
  type Plan,
  type Rig,
  type Vlan,
} from '../../../src/lint/rule.js';

export default defineRule({
  id: 'plan/join-within-rig',
  summary: 'A join makes things of one rig one',
  severity: 'error',
  sources: [commonPractice('what a rig holds apart stays apart when it is joined')],
  needs: ['rigJoins'],
  *check({ plan }) {
    const joinsOf = joinsByVlan(plan);
    const told = new Set<Join>();
    for (const vlans of joinClasses(plan)) {
      const merged = sameRig(vlans);
      if (merged.length === 0) continue;
      const joins = [...new Set(vlans.flatMap((vlan) => joinsOf.get(vlan) ?? []))];
      for (const join of joins) told.add(join);
      const finding = mergedVlans(merged, vlans, joins);
      if (finding !== undefined) yield finding;
    }
    for (const join of plan.joins) {
      if (!told.has(join)) yield* tiesNothing(join);
    }
  },
});

function mergedVlans(merged: readonly Vlan[], all: readonly Vlan[], joins: readonly Join[]): WordedDraft | undefined {
  const names = byLabel(merged.map(withRig), (name) => name);
  const through = byLabel(all.filter((vlan) => !merged.includes(vlan)).map(withRig), (name) => name);
  const ordered = byLabel(joins, describe);
  const last = ordered.at(-1);
  if (last === undefined) return undefined;
  return {
    subject: `VLANs ${names.join(', ')}`,
    parties: byLabel(all.map(withRig), (name) => name),
    what: `${names.length > 2 ? '' : 'two VLANs of one rig become one: '}${listNames(names)}${names.length > 2 ? ' become one VLAN' : ''}${ordered.length > 1 ? `, for each is joined with ${listNames(through)}` : ''}`,
    at: mark(last, describe(last), 'vlans'),
    others: ordered.filter((join) => join !== last).map((join) => mark(join, describe(join), 'vlans')),
    onAir:
      'whoever sets up the tie makes one VLAN of what the rig holds apart: pictures flood where sound is, two queriers and two subnets meet, and both legs of a stream may come to hang on one fault',
    fix: 'join each VLAN with one VLAN of each other rig; where two are to be reached from one, leave one out or let a router stand between',
    touch: { kind: 'plan', name: last.origin.document.name },
  };
}

/** A join that names one thing only, or things of one rig; where a name leads nowhere, `plan/unknown-reference` says so. */
function* tiesNothing(join: Join): Iterable<WordedDraft> {
  for (const key of ['vlans', 'networks'] as const) {
    const named = join[key];
    const written: unknown = Reflect.get(join.origin.container, key);
    const [first] = named;
    if (first === undefined || !Array.isArray(written) || written.length !== named.length) continue;
    if (named.some(({ rig }) => rig !== first.rig)) continue;
    const names = byLabel([...new Set(named.map(withRig))], (name) => name);
    yield {
      subject: `${key === 'vlans' ? 'VLANs' : 'networks'} ${names.join(', ')}`,
      parties: names,
      what: `a join names ${names.length === 1 ? `${names[0] ?? ''} twice` : `${listNames(names)}, all of one rig`}, and nothing of another rig`,
      at: mark(join, describe(join), key),
      onAir: 'what was to be joined is not: nothing of the other rig arrives, and no rule here checks what would meet',
      fix: `name ${key === 'vlans' ? 'the VLAN' : 'the network'} of the other rig, with that rig and a colon before it where both use the name; within a rig, links and \`routing\` say what is joined`,
      touch: { kind: 'plan', name: join.origin.document.name },
    };
  }
}

function joinsByVlan({ joins }: Plan): ReadonlyMap<Vlan, readonly Join[]> {
  const found = new Map<Vlan, Join[]>();
  for (const join of joins) {
    for (const vlan of new Set(join.vlans)) {
      const list = found.get(vlan);
      if (list === undefined) found.set(vlan, [join]);
      else list.push(join);
    }
  }
  return found;
}

/** VLANs of which the rig has another one among them too. */
function sameRig(vlans: readonly Vlan[]): readonly Vlan[] {
  const counts = new Map<Rig, number>();
  for (const { rig } of vlans) counts.set(rig, (counts.get(rig) ?? 0) + 1);
  return vlans.filter(({ rig }) => (counts.get(rig) ?? 0) > 1);
}

function describe({ vlans, networks }: Join): string {
  return `join of ${listNames([...vlans, ...networks].map(withRig))}`;
}
