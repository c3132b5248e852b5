import { byLabel, commonPractice, defineRule, touchOfKind, type Mark, type Touch } from '../../../src/doors/rule.js';
import {
  deviceOfReferrer,
  kindOfReference,
  lostNames,
  referrerLabel,
  wantedLabel,
  wantedLabels,
  type Unresolved,
} from '../../../src/doors/plan.js';
import { words, type Facts } from './words.js';

export default defineRule<Facts>({
  id: 'plan/unknown-reference',
  summary: 'A name that leads nowhere',
  severity: 'error',
  sources: [commonPractice('a name that is used is written down somewhere')],
  needs: [],
  brief: 'name leads nowhere',
  *check({ plan }) {
    for (const { wanted, names, uses, meant } of lostNames(plan)) {
      const sorted = byLabel(uses, ({ by }) => referrerLabel(by));
      const [first, ...rest] = sorted;
      const by = [...new Map(sorted.map((one) => [referrerLabel(one.by), one.by])).values()];
      const [name, ...more] = names;
      yield {
        subject: more.length === 0 ? wantedLabel(wanted, name) : `${wantedLabels(wanted)} not written down`,
        parties: by.map(referrerLabel),
        facts: { wanted, names, by, meant },
        at: markOf(first),
        others: rest.map(markOf),
        touch: more.length === 0 ? touchOfReference(first, by.length) : touchOfMany(first),
      };
    }
  },
  words,
});

/** What refers to the name: a device, or the kind it has the entry from, a switch, a link, a VLAN; else the plan. */
function touchOfReference(first: Unresolved, referrers: number): Touch {
  const { by, origin } = first;
  if (by.kind === 'switch' || by.kind === 'vlan') return { kind: by.kind, name: by.entity.name };
  if (by.kind === 'link') {
    const { name, ends } = by.entity;
    return { kind: 'link', name: name ?? ends.map((end) => end.text).join(' to ') };
  }
  const kind = referrers > 1 ? kindOfReference(first) : undefined;
  if (kind !== undefined) return touchOfKind(kind);
  const device = deviceOfReferrer(by);
  return device === undefined ? { kind: 'plan', name: origin.document.name } : { kind: 'device', name: device.name };
}

/** Where the list that is missing belongs. */
function touchOfMany({ wanted: { of }, origin }: Unresolved): Touch {
  if (of === undefined) return { kind: 'plan', name: origin.document.name };
  return { kind: 'ports' in of ? 'switch' : 'device', name: of.name };
}

function markOf({ origin, key, by }: Unresolved): Mark<never> {
  const place = { document: origin.document, container: origin.container };
  return { place: Object.hasOwn(origin.container, key) ? { ...place, key } : place, label: referrerLabel(by) };
}
