import {
  byLabel,
  commonPractice,
  defineRule,
  groupBy,
  mapAll,
  referrerLabel,
  touchOfKind,
  wantedLabel,
  type Kind,
  type Mark,
  type NonEmpty,
  type Plan,
  type Referrer,
  type Touch,
  type Unresolved,
} from '../../../src/lint/rule.js';
import { words, type Facts } from './words.js';

export default defineRule<Facts>({
  id: 'plan/unknown-reference',
  summary: 'A name that leads nowhere',
  severity: 'error',
  sources: [commonPractice('a name that is used is written down somewhere')],
  needs: [],
  *check({ plan }) {
    // One for each name that leads nowhere, however many use it.
    for (const [subject, list] of groupBy(plan.unresolved, ({ wanted, text }) => wantedLabel(wanted, text))) {
      const uses = byLabel(list, ({ by }) => referrerLabel(by));
      const [{ wanted, text }] = uses;
      const by = new Map(uses.map((use) => [referrerLabel(use.by), use.by]));
      const [at, ...others] = mapAll(uses, markOf);
      yield {
        subject,
        parties: [...by.keys()],
        facts: { wanted, name: text, by: [...by.values()], meant: likely(plan, uses) },
        at,
        others,
        touch: touchOf(uses, by.size),
      };
    }
  },
  words,
});

const MOST_NAMES = 3;

/** Names equally close to what is written; of streams, those that no receiver takes yet before all others. */
function likely(plan: Plan, uses: NonEmpty<Unresolved>): readonly string[] {
  const [{ wanted, text }] = uses;
  const close = [...new Set(uses.flatMap((one) => one.suggestions))].filter(
    // Of numbered ports the nearest number is no better a guess than any other.
    (name) => wanted.kind !== 'port' || withoutNumbers(name) !== withoutNumbers(text),
  );
  const names = byLabel(close, (name) => name);
  if (names.length < 2 || (wanted.kind !== 'sender' && wanted.kind !== 'stream')) return names.slice(0, MOST_NAMES);
  const taken = new Set(
    plan.receivers.flatMap(({ takes }) =>
      takes !== undefined && (takes.device === undefined || takes.device === wanted.of) ? [takes.name] : [],
    ),
  );
  const left = names.filter((name) => !taken.has(name));
  return (left.length > 0 ? left : names).slice(0, MOST_NAMES);
}

function withoutNumbers(name: string): string {
  return name.replace(/\d+/g, '#');
}

/** What refers to the name: a device, or the kind it has the entry from, a switch, a link, a VLAN; else the plan. */
function touchOf([{ by, origin }]: NonEmpty<Unresolved>, referrers: number): Touch {
  if (by.kind === 'switch' || by.kind === 'vlan') return { kind: by.kind, name: by.entity.name };
  if (by.kind === 'link')
    return { kind: 'link', name: by.entity.name ?? by.entity.ends.map((end) => end.text).join(' to ') };
  const device = deviceOf(by);
  if (device === undefined) return { kind: 'plan', name: origin.document.name };
  const { kind } = device;
  return kind !== undefined && referrers > 1 && origin.base === undefined && writes(kind, origin.container)
    ? touchOfKind(kind)
    : { kind: 'device', name: device.name };
}

function deviceOf(by: Referrer) {
  if (by.kind === 'device') return by.entity;
  return by.kind === 'receiver' || by.kind === 'stream' ? by.entity.device : undefined;
}

interface RawKind {
  readonly interfaces?: readonly object[];
  readonly senders?: readonly { readonly legs?: readonly object[] }[];
  readonly receivers?: readonly { readonly legs?: readonly object[] }[];
}

function writes(kind: Kind, entry: object): boolean {
  const { interfaces = [], senders = [], receivers = [] } = kind.origin.container as RawKind;
  const legs = [...senders, ...receivers].flatMap((one) => one.legs ?? []);
  return [...interfaces, ...senders, ...receivers, ...legs].includes(entry);
}

function markOf({ origin, key, by }: Unresolved): Mark<never> {
  const place = { document: origin.document, container: origin.container };
  return { place: Object.hasOwn(origin.container, key) ? { ...place, key } : place, label: referrerLabel(by) };
}
