import { createEditList, likely, peopleDecide, type Cure } from '../../../src/doors/cures.js';
import { byLabel, commonPractice, defineRule, touchOfKind, type Touch, type Plan } from '../../../src/doors/rule.js';
import {
  createRenamed,
  deviceOfReferrer,
  doubledLost,
  kindOfReference,
  lostNames,
  referenceMark,
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
    if (plan.unresolved.length === 0) return;
    const renamedThing = createRenamed(plan);
    const counts = new Map<string, number>();
    for (const { text } of plan.unresolved) counts.set(text, (counts.get(text) ?? 0) + 1);
    // Of two things with one name one had it: `plan/duplicate-name` says so.
    const explained = new Set(doubledLost(plan).map(({ lost: { names } }) => names[0]));
    for (const { wanted, names, uses, meant } of lostNames(plan)) {
      if (explained.has(names[0])) continue;
      const sorted = byLabel(uses, ({ by }) => referrerLabel(by));
      const [first, ...rest] = sorted;
      const by = [...new Map(sorted.map((one) => [referrerLabel(one.by), one.by])).values()];
      const [name, ...more] = names;
      // What many refer to was renamed or lost where it was written down; a slip is in one place or two.
      const isFew = (counts.get(name) ?? 0) <= MOST_SLIPS;
      const renamed = more.length > 0 || (meant.length === 1 && isFew) ? undefined : renamedThing(first);
      yield {
        subject: more.length === 0 ? wantedLabel(wanted, name) : `${wantedLabels(wanted)} not written down`,
        parties: by.map(referrerLabel),
        cure: () => {
          if (renamed === undefined) return cure(plan, { wanted, uses, names, meant, isFew });
          const edits = createEditList();
          edits.set(renamed, 'name', name);
          return likely(edits);
        },
        facts: { wanted, names, by, meant, renamed: renamed?.name },
        at: referenceMark(first),
        others: rest.map(referenceMark),
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

/** The one name that is meant, wherever the wrong one is written. */
function cure(
  plan: Plan,
  { wanted, uses, names, meant, isFew }: ReturnType<typeof lostNames>[number] & { readonly isFew: boolean },
): Cure {
  const [name, ...more] = names;
  const [right, ...others] = meant;
  if (more.length > 0) return peopleDecide('which file writes these names down');
  if (right === undefined || others.length > 0) return peopleDecide('which name is meant, or where it is written down');
  if (!isFew) return peopleDecide('whether the name is wrong or what it names has another');
  const edits = createEditList();
  for (const { origin, key } of uses) {
    const at = origin.container as Readonly<Record<string | number, unknown>>;
    const text = at[key];
    if (typeof text !== 'string' || text.split(name).length !== 2) return peopleDecide(`where \`${right}\` goes`);
    const rest = text.slice(text.indexOf(name) + name.length);
    if (wanted.kind === 'device' && rest.startsWith('/') && !sends(plan, right, rest.slice(1)))
      return peopleDecide(`what of \`${right}\` is meant`);
    edits.put(
      { document: origin.document, container: at, key },
      text.replace(name, () => right),
    );
  }
  return likely(edits);
}

function sends({ devices }: Plan, name: string, sender: string): boolean {
  return devices.some((one) => one.name === name && one.senders.some((its) => its.name === sender));
}

const MOST_SLIPS = 2;
