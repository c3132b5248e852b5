/** Readers stand in one list; a further one, of bytes and with places of its own, needs nothing else. */
import { describe, expect, it } from 'vitest';
import { lintPlan } from '../../src/lint/run.js';
import { resolvePlan } from '../../src/plan/resolve/index.js';
import { inputOf, isSparable, readDocument, readerOf, type Input } from '../../src/read/index.js';
import { READERS, usualEndings, type BytesReader } from '../../src/read/readers.js';
import { lintJson } from '../../src/report/lint/json.js';
import { lintSarif } from '../../src/report/lint/sarif.js';
import { REPORTERS } from '../../src/reporters/lint.js';
import type { Document, Locator, Place } from '../../src/source/document.js';
import { applyEdits } from '../../src/splice/edit.js';
import { RULES } from '../../rules/index.js';

const bytesOf = (text: string): Uint8Array => new TextEncoder().encode(text);

/** A sheet whose every byte is the last one of a group's address, one a row, after a mark of two bytes. */
const SHEET: BytesReader = {
  name: 'sheet',
  endings: ['sheet'],
  starts: (start) => start.startsWith('\u00ff\u0001'),
  sparable: false,
  takes: 'bytes',
  read: (name, bytes) => {
    const legs = [...bytes.subarray(2)].map((byte) => ({ group: `239.1.1.${byte}`, port: 5004 }));
    const streams = legs.map((leg, row) => ({ name: `cam-${row + 1}`, legs: [leg] }));
    const locate = (places: Iterable<Place>): Locator => {
      asked.push([...places].length);
      return ({ container }) => {
        const row = legs.indexOf(container as (typeof legs)[number]) + 1;
        return { file: name, line: row, column: 3, endLine: row, endColumn: 3, where: `Streams!C${row}` };
      };
    };
    const document: Document = { name, format: 'sheet', content: bytes, value: { streams }, isList: true, locate };
    return { document, problems: [] };
  },
};
const WITH_SHEET = [...READERS, SHEET];
/** How many places were asked for at once. */
let asked: number[] = [];

describe('the reader of a file', () => {
  it.each([
    ['plan.yaml', 'x', 'yaml'],
    ['plan.YML', 'x', 'yaml'],
    ['plan.json', 'x', 'json'],
    ['a.b/list.tsv', 'x', 'csv'],
    ['cam.sdp', 'x', 'sdp'],
    ['-', '  {"rig": "Heron"}', 'json'],
    ['-', 'v=0\no=- 1 1 IN IP4 10.0.0.1\n', 'sdp'],
    ['-', 'name;group;port\n', 'csv'],
    ['-', 'rig: Heron\n', 'yaml'],
    ['plan.txt', 'devices: [a, b]\n', 'yaml'],
    ['constructor', '', 'yaml'],
  ])('of %s with %j is %s', (name, text, reader) => {
    expect(readerOf({ name, text })?.name).toBe(reader);
    expect(readerOf({ name, bytes: bytesOf(text) })?.name).toBe(reader);
  });

  it('may be asked for by name or ending; one that there is not is told of', () => {
    expect(readerOf({ name: 'plan.yaml', text: '', format: 'csv' })?.name).toBe('csv');
    expect(readerOf({ name: '-', text: '', format: 'tsv' })?.name).toBe('csv');
    expect(readDocument({ name: '<stdin>', text: '', format: 'cvs' }).problems).toEqual([
      {
        at: { file: '<stdin>', line: 1, column: 1, endLine: 1, endColumn: 1 },
        what: 'nothing reads the format `cvs`',
        instead: 'say `csv`; there are yaml, json, csv, sdp',
      },
    ]);
  });

  it('says whether a rig may be judged without the file', () => {
    expect(READERS.filter(({ sparable }) => sparable).map(({ name }) => name)).toEqual(['sdp']);
    expect(isSparable({ name: 'cam.sdp', text: '' })).toBe(true);
    expect(isSparable({ name: 'cam.csv', text: '' })).toBe(false);
  });

  it('has a name and endings that nobody else has', () => {
    for (const words of [READERS.map(({ name }) => name), READERS.flatMap(({ endings }) => endings)])
      expect(new Set(words).size).toBe(words.length);
    expect(usualEndings()).toBe('.yaml, .json, .csv or .sdp');
  });
});

describe('bytes', () => {
  it('become the text that a reader of text takes', () => {
    const text = 'rig: Heron\n';
    expect(inputOf('plan.yaml', bytesOf(`\ufeff${text}`))).toEqual({ name: 'plan.yaml', text, format: undefined });
    expect(readDocument({ name: 'plan.yaml', bytes: bytesOf(text) }).document?.value).toEqual({ rig: 'Heron' });
    const wrong = inputOf('plan.yaml', Uint8Array.of(0x72, 0x0a, 0xff));
    expect(wrong).toMatchObject({ at: { file: 'plan.yaml', line: 2, column: 1 } });
    expect(readDocument({ name: 'plan.yaml', bytes: Uint8Array.of(0xff) }).problems).toHaveLength(1);
  });

  it('stay bytes for a reader of bytes, told by name, by start or by word', () => {
    const bytes = Uint8Array.of(0xff, 1, 7);
    for (const [name, format] of [['cams.sheet'], ['-'], ['-', 'sheet']] as const)
      expect(inputOf(name, bytes, format, WITH_SHEET)).toEqual({ name, bytes, format });
    expect(readDocument({ name: 'a.sheet', text: '\u0001\u0001' }, WITH_SHEET).document?.content).toEqual(
      Uint8Array.of(1, 1),
    );
  });
});

describe('a further reader', () => {
  const input: Input = { name: 'cams.sheet', bytes: Uint8Array.of(0xff, 1, 7, 9, 7) };
  const { document } = readDocument(input, WITH_SHEET);
  if (document === undefined) throw new Error('the sheet is not read');

  it('says places of its own, asked once and only for what is reported', () => {
    asked = [];
    const result = lintPlan(resolvePlan([document]).plan, RULES, { today: '2026-06-01' });
    const found = result.findings.find(({ rule }) => rule === 'groups/two-senders');
    expect([found?.at, ...(found?.others ?? [])].map((at) => at?.where)).toEqual(['Streams!C3', 'Streams!C1']);
    expect(asked.filter((count) => count > 0).length).toBeLessThanOrEqual(3);
    const page = { version: '', width: 100, colour: false };
    expect(REPORTERS.text(result, page)).toContain('cams.sheet Streams!C3');
    expect(lintJson(result, '')).toMatchObject({
      findings: [{ at: { line: 3, where: 'Streams!C3' }, others: [{ where: 'Streams!C1' }] }],
    });
    const [shown] = lintSarif(result, '').runs[0].results;
    expect([...(shown?.locations ?? []), ...(shown?.relatedLocations ?? [])]).toMatchObject([
      { properties: { where: 'Streams!C3' } },
      { properties: { where: 'Streams!C1' } },
    ]);
  });

  it('is not asked by a clean plan', () => {
    asked = [];
    const clean = readDocument({ name: 'cams.sheet', bytes: Uint8Array.of(0xff, 1) }, WITH_SHEET).document;
    if (clean === undefined) throw new Error('the sheet is not read');
    expect(lintPlan(resolvePlan([clean]).plan, RULES, { today: '2026-06-01' }).findings).toEqual([]);
    expect(asked.filter((count) => count > 0)).toEqual([]);
  });

  it('gives documents whose values are changed by hand', () => {
    const [stream] = (document.value as { readonly streams: readonly { readonly legs: readonly object[] }[] }).streams;
    const container = stream?.legs[0] ?? {};
    expect(applyEdits(document, [{ document, container, key: 'group', value: '239.1.1.8' }])).toEqual({
      text: undefined,
      problems: [
        {
          at: { file: 'cams.sheet', line: 1, column: 3, endLine: 1, endColumn: 3, where: 'Streams!C1' },
          what: 'this is a file the program can read but not write',
          instead: 'by hand, write `group: "239.1.1.8"`',
        },
      ],
    });
  });
});
