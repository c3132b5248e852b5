import {
  append,
  byLabel,
  commonPractice,
  defineRule,
  groupBy,
  isNonEmpty,
  joinClasses,
  joinLabel,
  lastOf,
  mark,
  withRig,
  type FindingDraft,
  type Join,
  type Network,
  type Plan,
  type Vlan,
} from '../../../src/lint/rule.js';
import { words, type Facts } from './words.js';

export default defineRule<Facts>({
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
      yield* mergedVlans(merged, vlans, joins);
    }
    for (const join of plan.joins) if (!told.has(join)) yield* tiesNothing(join);
  },
  words,
});

function* mergedVlans(
  merged: readonly Vlan[],
  all: readonly Vlan[],
  joins: readonly Join[],
): Iterable<FindingDraft<Facts, never>> {
  const ordered = byLabel(joins, joinLabel);
  if (!isNonEmpty(ordered)) return;
  const last = lastOf(ordered);
  const vlans = byLabel(merged.map(withRig), (name) => name);
  const through = byLabel(all.filter((vlan) => !merged.includes(vlan)).map(withRig), (name) => name);
  yield {
    subject: `VLANs ${vlans.join(', ')}`,
    parties: all.map(withRig),
    facts: { form: 'merged', vlans, through: ordered.length > 1 ? through : [] },
    at: mark(last, joinLabel(last), 'vlans'),
    others: ordered.filter((join) => join !== last).map((join) => mark(join, joinLabel(join), 'vlans')),
    touch: { kind: 'plan', name: last.origin.document.name },
  };
}

/** A join that names one thing only, or things of one rig; where a name leads nowhere, `plan/unknown-reference` says so. */
function* tiesNothing(join: Join): Iterable<FindingDraft<Facts, never>> {
  for (const key of ['vlans', 'networks'] as const) {
    const named: readonly (Vlan | Network)[] = join[key];
    const written: unknown = Reflect.get(join.origin.container, key);
    if (!isNonEmpty(named) || !Array.isArray(written) || written.length !== named.length) continue;
    if (named.some(({ rig }) => rig !== named[0].rig)) continue;
    const names = byLabel([...new Set(named.map(withRig))], (name) => name);
    yield {
      subject: `${key === 'vlans' ? 'VLANs' : 'networks'} ${names.join(', ')}`,
      parties: names,
      facts: { form: 'ties-nothing', of: key, names },
      at: mark(join, joinLabel(join), key),
      touch: { kind: 'plan', name: join.origin.document.name },
    };
  }
}

function joinsByVlan({ joins }: Plan): ReadonlyMap<Vlan, readonly Join[]> {
  const found = new Map<Vlan, Join[]>();
  for (const join of joins) for (const vlan of new Set(join.vlans)) append(found, vlan, join);
  return found;
}

/** VLANs of which the rig has another one among them too. */
function sameRig(vlans: readonly Vlan[]): readonly Vlan[] {
  const byRig = groupBy(vlans, ({ rig }) => rig);
  return vlans.filter(({ rig }) => (byRig.get(rig) ?? []).length > 1);
}
