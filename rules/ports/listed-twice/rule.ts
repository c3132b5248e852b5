import { certainly, createEditList, likely, removeEntry, type Cure, runsOf } from '../../../src/doors/cures.js';
import { commonPractice, defineRule, groupBy, noted, type Mark } from '../../../src/doors/rule.js';
import { type RepeatedPort, portNames } from '../../../src/doors/ports.js';
import { words, type Entry, type Facts, type Note, type Said } from './words.js';

export default defineRule<Facts, Note>({
  id: 'ports/listed-twice',
  summary: 'A switch port is written in two entries',
  severity: 'error',
  sources: [commonPractice('each port is written once')],
  needs: [],
  brief: 'port written twice',
  *check({ plan }) {
    for (const [owner, repeated] of groupBy(plan.repeatedPorts, (one) => one.switch)) {
      const [first] = repeated;
      const names = [...new Set(repeated.map((one) => one.name))];
      const pair = repeated.find(saysElse);
      const entries = new Map(repeated.flatMap((one) => [one.first, one.again]).map((one) => [one.container, one]));
      entries.delete(first.again.container);
      yield {
        subject: `switch ${owner.name}`,
        parties: names.map((name) => `${owner.name}/${name}`),
        severity: pair === undefined ? 'note' : 'error',
        cure: () => cure(repeated, pair === undefined),
        facts: {
          switch: owner,
          ports: names,
          differing: pair === undefined ? undefined : differing(pair),
        },
        at: entryMark(first, first.again, true),
        others: [...entries.values()].map((entry) => entryMark(first, entry, false)),
        touch: { kind: 'switch', name: owner.name },
      };
    }
  },
  words,
});

type Origin = RepeatedPort['first'];

function entryMark(of: RepeatedPort, { document, container }: Origin, again: boolean): Mark<Note> {
  const place = { document, container, key: 'name' };
  return noted({ place, label: nameOf(of, container) }, { again, says: said(container) });
}

/** What the entries of a port say differently, side by side. */
function differing(one: RepeatedPort): readonly Entry[] {
  const keys = SAID.filter((key) => textOf(one.first.container, key) !== textOf(one.again.container, key));
  return [one.first, one.again].map(({ container }) => ({
    name: nameOf(one, container),
    keys,
    says: said(container, keys),
  }));
}

function saysElse({ first, again }: RepeatedPort): boolean {
  return SAID.some((key) => textOf(first.container, key) !== textOf(again.container, key));
}

const SAID: readonly string[] = ['rate', 'access', 'trunk', 'native', 'mtu'];

function said(container: object, keys = SAID): readonly Said[] {
  return keys.flatMap((key) => {
    const text = textOf(container, key);
    return text === undefined ? [] : [{ key, text }];
  });
}

function textOf(container: object, key: string): string | undefined {
  const value = (container as Readonly<Record<string, string | number | object | undefined>>)[key];
  if (value === undefined) return undefined;
  return Array.isArray(value) ? value.join(', ') : typeof value === 'object' ? JSON.stringify(value) : String(value);
}

function nameOf({ switch: owner }: RepeatedPort, container: object): string {
  return `${owner.name}/${(container as { readonly name: string | number }).name}`;
}

/** The entry that counts is the first: the ports go from the later ones. */
function cure(repeated: readonly RepeatedPort[], alike: boolean): Cure {
  const edits = createEditList();
  for (const [container, own] of groupBy(repeated, ({ again }) => again.container)) {
    const [{ again, switch: owner }] = own;
    const twice = new Set(own.map(({ name }) => name));
    const all = portNames(String((container as { readonly name: string | number }).name)) ?? [];
    const rest = runsOf(all.filter((name) => !twice.has(name)));
    const [kept, ...more] = rest;
    if (kept === undefined) removeEntry(edits, { origin: again }, 'ports', owner);
    else edits.put({ document: again.document, container, key: 'name' }, kept);
    for (const name of more) edits.append(owner, 'ports', { ...(container as Readonly<Record<string, string>>), name });
  }
  return alike ? certainly(edits) : likely(edits);
}
