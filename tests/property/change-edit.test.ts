/**
 * Laws of writing into plan files, for random plans in random layouts: the text says what was meant and nothing else
 * moved, or nothing is written. Values are read back with the library `yaml` (or the language's JSON reader).
 */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { Lexer, parse } from 'yaml';
import { applyEdits, type Edit, type EditValue } from '../../src/splice/edit.js';
import { readEdits, writeEdits } from '../../src/splice/written.js';
import { valueAt } from '../../src/splice/splice.js';
import { readDocument } from '../../src/read/index.js';
import { asText } from '../tools/texts.js';
import type { Document } from '../../src/source/document.js';
import { textOf } from '../tools/edits.js';

interface Vlan {
  readonly name: string;
  readonly id?: number;
  readonly network?: string;
  readonly subnet?: string;
  readonly igmp?: { readonly version?: number; readonly snooping?: boolean };
}
interface Layout {
  readonly flow: boolean;
  readonly lines: boolean;
  readonly comment: boolean;
  readonly quote: '' | '"' | "'";
}

const word = fc.constantFrom('red', 'blue', 'ctl 2', 'pier-7', 'a.b', 'yes', '12', 'Küche');
const vlan: fc.Arbitrary<Vlan> = fc.record(
  {
    name: fc.string({ unit: fc.constantFrom('a', 'b', 'c', 'd', 'e'), minLength: 3, maxLength: 6 }),
    id: fc.integer({ min: 1, max: 4094 }),
    network: word,
    subnet: fc.nat(255).map((octet) => `10.0.${octet}.0/24`),
    igmp: fc.record({ version: fc.constantFrom(2, 3), snooping: fc.boolean() }, { requiredKeys: [] }),
  },
  { requiredKeys: ['name'] },
);
const layout: fc.Arbitrary<Layout> = fc.record({
  flow: fc.boolean(),
  lines: fc.boolean(),
  comment: fc.boolean(),
  quote: fc.constantFrom('', '"', "'"),
});
const plan = fc.record({
  vlans: fc.uniqueArray(fc.tuple(vlan, layout), { minLength: 1, maxLength: 6, selector: ([{ name }]) => name }),
  newline: fc.constantFrom('\n', '\r\n'),
  lastBreak: fc.boolean(),
});

/** What becomes of a VLAN: new values (`null`: taken out) by key. */
const change = fc.record(
  {
    id: fc.option(fc.integer({ min: 1, max: 4094 })),
    network: fc.option(word),
    subnet: fc.option(fc.nat(255).map((octet) => `172.16.${octet}.0/24`)),
    igmp: fc.option(fc.record({ version: fc.constantFrom(2, 3) })),
  },
  { requiredKeys: [] },
);
const changes = fc.array(change, { minLength: 6, maxLength: 6 });
type Change = Readonly<Record<string, EditValue | null>>;

describe('YAML', () => {
  it('says what was meant, with every comment but those of lines taken out', () => {
    fc.assert(
      fc.property(plan, changes, ({ vlans, newline, lastBreak }, all) => {
        const text = yamlOf(vlans, newline, lastBreak);
        const document = documentOf('a.yaml', text);
        const edits = editsOf(document, all);
        const written = textOf(applyEdits(document, edits));
        expect(parse(written)).toEqual(meant(vlans, all));
        const taken = edits.some(({ value, container, key }) => loses(valueAt(container, key), value));
        if (taken) expect(commentsOf(text)).toEqual(expect.arrayContaining([...commentsOf(written)]));
        else expect(commentsOf(written)).toEqual(commentsOf(text));
        if (newline === '\r\n') expect(written.replaceAll('\r\n', '')).not.toMatch(/[\r\n]/);
        else expect(written).not.toContain('\r');
        expect(written.endsWith(newline)).toBe(text.endsWith(newline));
      }),
      { numRuns: 400 },
    );
  });

  it('leaves all text outside the changed values as it is', () => {
    fc.assert(
      fc.property(plan, changes, ({ vlans, newline, lastBreak }, all) => {
        const text = yamlOf(vlans, newline, lastBreak);
        const document = documentOf('a.yaml', text);
        const edits = scalarsOnly(editsOf(document, all));
        const written = textOf(applyEdits(document, edits));
        const places = edits.map(({ container, key }) => ({ container, key }));
        const now = documentOf('a.yaml', written);
        expect(withoutValues(now, placesIn(now, document, places))).toBe(withoutValues(document, places));
      }),
      { numRuns: 300 },
    );
  });
});

describe('JSON', () => {
  it('says what was meant', () => {
    fc.assert(
      fc.property(plan, changes, fc.constantFrom<string | number>('', 2, '\t'), ({ vlans }, all, indent) => {
        const text = JSON.stringify({ rig: 'Heron', vlans: vlans.map(([one]) => one) }, undefined, indent);
        const document = documentOf('a.json', text);
        expect(JSON.parse(textOf(applyEdits(document, editsOf(document, all))))).toEqual(meant(vlans, all));
      }),
      { numRuns: 300 },
    );
  });
});

describe('a sheet', () => {
  it('put in twice changes nothing the second time', () => {
    fc.assert(
      fc.property(plan, changes, ({ vlans, newline, lastBreak }, all) => {
        const document = documentOf('a.yaml', yamlOf(vlans, newline, lastBreak));
        const sheet = writeEdits(editsOf(document, all), () => 'a');
        const first = readEdits(sheet, new Map([['a', document]]));
        expect(first.problems).toEqual([]);
        expect(first.edits.length + first.already).toBe(sheet.length);
        const now = documentOf('a.yaml', textOf(applyEdits(document, first.edits)));
        const second = readEdits(sheet, new Map([['a', now]]));
        expect(second).toEqual({ edits: [], already: sheet.length, problems: [] });
        expect(textOf(applyEdits(now, second.edits))).toBe(asText(now).text);
      }),
      { numRuns: 200 },
    );
  });
});

function documentOf(name: string, text: string): Document {
  const { document, problems } = readDocument({ name, text });
  if (document === undefined) throw new Error(`${problems[0]?.what ?? ''}\n${text}`);
  return document;
}

function yamlOf(vlans: readonly (readonly [Vlan, Layout])[], newline: string, lastBreak: boolean): string {
  const lines = ['# plan', 'rig: Heron   # name', 'vlans:', ...vlans.flatMap(([one, how]) => vlanLines(one, how))];
  return lines.join('\n').replaceAll('\n', newline) + (lastBreak ? newline : '');
}

function vlanLines(one: Vlan, { flow, lines, comment, quote }: Layout): readonly string[] {
  const note = (text: string): string => (comment ? ` # ${text}, of ${one.name}` : '');
  const text = (value: unknown): string =>
    typeof value !== 'string'
      ? JSON.stringify(value)
      : /^(?:yes|12)$/.test(value) && quote === ''
        ? `"${value}"`
        : `${quote}${value}${quote}`;
  const entries = Object.entries(one).filter(([key]) => key !== 'igmp');
  const igmp = Object.entries(one.igmp ?? {}).map(([key, value]) => `${key}: ${String(value)}`);
  const inner = entries.map(([key, value]) => `${key}: ${text(value)}`);
  const nested = one.igmp === undefined ? [] : [`igmp: {${igmp.join(', ')}}`];
  if (flow && !lines) return [`  - {${[...inner, ...nested].join(', ')}}${note('all')}`];
  if (flow) {
    const all = [...inner, ...nested];
    return [
      '  - {',
      ...all.map((entry, at) => `      ${entry}${at < all.length - 1 ? ',' : ''}${note(entry)}`),
      '    }',
    ];
  }
  const [first = '', ...rest] = inner;
  const block =
    lines && igmp.length > 0
      ? ['    igmp:', ...igmp.map((entry) => `      ${entry}${note(entry)}`)]
      : nested.map((entry) => `    ${entry}`);
  return [
    `  - ${first}${note('name')}`,
    ...rest.map((entry) => `    ${entry}${note(entry)}`),
    ...block,
    ...(comment ? ['', '  # next'] : []),
  ];
}

function editsOf(document: Document, all: readonly Change[]): readonly Edit[] {
  const { vlans } = document.value as { readonly vlans: readonly object[] };
  return vlans.flatMap((container, index) =>
    Object.entries(all[index] ?? {}).map(([key, value]): Edit => ({
      document,
      container,
      key,
      value: value ?? undefined,
    })),
  );
}

/** Whether an entry, or one inside it, is taken out. */
function loses(old: unknown, now: unknown): boolean {
  if (old === undefined) return false;
  if (typeof old !== 'object' || old === null || typeof now !== 'object' || now === null) return now === undefined;
  return Object.keys(old).some((key) => !Object.hasOwn(now, key));
}

function meant(vlans: readonly (readonly [Vlan, Layout])[], all: readonly Change[]): unknown {
  const changed = vlans.map(([one], index) =>
    Object.fromEntries(Object.entries<unknown>({ ...one, ...all[index] }).filter(([, value]) => value !== null)),
  );
  return { rig: 'Heron', vlans: changed };
}

/** Replacements of one value by one other. */
function scalarsOnly(edits: readonly Edit[]): readonly Edit[] {
  return edits.filter(
    ({ container, key, value }) => typeof value !== 'object' && value !== undefined && Object.hasOwn(container, key),
  );
}

interface EntryOf {
  readonly container: object;
  readonly key: string | number;
}

/** The same entries of a document with the same VLANs. */
function placesIn(now: Document, before: Document, places: readonly EntryOf[]): readonly EntryOf[] {
  const listOf = ({ value }: Document): readonly object[] => (value as { readonly vlans: readonly object[] }).vlans;
  const old = listOf(before);
  return places.map(({ container, key }) => ({ container: listOf(now)[old.indexOf(container)] ?? {}, key }));
}

function withoutValues(document: Document, places: readonly EntryOf[]): string {
  const spans = asText(document).spans(new Set(places.map(({ container }) => container)));
  const values = places.flatMap(({ container, key }) => spans.get(container)?.entries.get(key)?.value ?? []);
  expect(values).toHaveLength(places.length);
  let { text } = asText(document);
  for (const { start, end } of values.sort((a, b) => b.start - a.start))
    text = `${text.slice(0, start)}…${text.slice(end)}`;
  return text;
}

function commentsOf(text: string): readonly string[] {
  return [...new Lexer().lex(text)].filter((token) => token.startsWith('#'));
}
