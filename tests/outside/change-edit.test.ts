/**
 * Plan files written into, held against libraries the project does not read them with: `yaml` (comments and values),
 * the JSON reader of the language, and `csv-parse`.
 */
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { parse as parseCsv } from 'csv-parse/sync';
import { describe, expect, it } from 'vitest';
import { isScalar, parse, parseDocument, visit, Lexer, type Document as YamlDocument } from 'yaml';
import { applyEdits, type Edit } from '../../src/splice/edit.js';
import { pathsOf } from '../../src/splice/path.js';
import { writeYaml, writeYamlEntry } from '../../src/splice/yaml-text.js';
import { readDocument } from '../../src/read/index.js';
import type { Document } from '../../src/source/document.js';
import { applyTo, editAt, textOf } from '../tools/edits.js';
import { growth, LINEAR, ratio } from '../tools/growth.js';

const BAY = fileURLToPath(new URL('../../examples/kestrel-bay', import.meta.url));

/** The plans of both rigs. */
const FILES = ['heron', 'dunlin', 'heron-broken', 'dunlin-broken'].flatMap((rig) =>
  readdirSync(join(BAY, rig))
    .filter((name) => /\.(?:yaml|json)$/.test(name))
    .map((name) => `${rig}/${name}`),
);

describe('the Kestrel Bay plans', () => {
  it.each(FILES)('%s: every group there and back', (file) => {
    const text = readFileSync(join(BAY, file), 'utf8');
    const document = documentOf(file, text);
    const there = groupEdits(document, swapped);
    const moved = textOf(applyEdits(document, there));
    expect(moved === text).toBe(there.length === 0);
    const again = documentOf(file, moved);
    const back = groupEdits(again, swapped);
    expect(pathsOf(again, back)).toEqual(pathsOf(document, there));
    expect(textOf(applyEdits(again, back))).toBe(text);
    if (file.endsWith('.yaml')) sameButFor(text, moved, there.length);
    else expect(JSON.parse(moved)).toEqual(again.value);
  });

  it('have groups to move', () => {
    const counts = FILES.map(
      (file) => groupEdits(documentOf(file, readFileSync(join(BAY, file), 'utf8')), String).length,
    );
    expect(counts.reduce((sum, count) => sum + count, 0)).toBeGreaterThan(100);
  });

  it.each(FILES.filter((file) => file.endsWith('.yaml')))('%s: new and lost entries keep all comments', (file) => {
    const text = readFileSync(join(BAY, file), 'utf8');
    const document = documentOf(file, text);
    const named = containersOf(document).filter((one) => 'name' in one && !('notes' in one));
    expect(named.length).toBeGreaterThan(0);
    // A key the schema takes nowhere: the text comes out all the same, and the problem says so.
    const refused = applyEdits(
      document,
      named.map((container): Edit => ({ document, container, key: 'no such key', value: 1 })),
    );
    expect(refused.text).toBeUndefined();
    const legs = legsOf(document).filter((one) => !('ttl' in one) && !('dscp' in one));
    const written = textOf(
      applyEdits(
        document,
        legs.flatMap((container): readonly Edit[] => [
          { document, container, key: 'ttl', value: 9 },
          { document, container, key: 'dscp', value: 34 },
        ]),
      ),
    );
    expect(commentsOf(written)).toEqual(commentsOf(text));
    const grown = documentOf(file, written);
    const lost = containersOf(grown)
      .filter((one) => 'ttl' in one && one.ttl === 9 && 'dscp' in one)
      .flatMap((container): readonly Edit[] => [
        { document: grown, container, key: 'ttl', value: undefined },
        { document: grown, container, key: 'dscp', value: undefined },
      ]);
    expect(lost.length).toBe(2 * legs.length);
    expect(textOf(applyEdits(grown, lost))).toBe(text);
  });
});

describe('values written as YAML', () => {
  const TEXTS = [
    'red', '', ' ', 'yes', 'No', 'y', 'null', '~', '12', '1e3', '0x1f', '0o17', '1_000', '.5', '-1', '12:30:45', '2031-08-31',
    '00:11:22:33:44:55', '10.0.0.0/24', 'ff3e::1', 'fd00::', 'a: b', 'a #b', '#a', '- a', '? a', 'a, b', '[a]', '{a}', '&a', '*a',
    '!a', '|', '>', '%a', '@a', '`a', '"', "'", "it's", 'a\nb', 'a\r\nb', '\t', 'a ', ' a', 'Küche 2', '\u0085', '\u202e', '\ufeff',
    'a\u2028b', '\u0000', '\u{1f6a3}', '<<', '=', '---', '...', 'key:', '1.2.3.4:5004', 'NaN', '.inf', 'true', 'cam (left)', 'a\\b',
  ]; // prettier-ignore

  it.each(['1.2', '1.1'] as const)('are the same to a reader of YAML %s', (version) => {
    for (const text of TEXTS) {
      for (const old of ['', '"x"', "'x'"]) {
        expect(parse(`a: ${writeYaml(text, old)}   # c\n`, { version }), `${old} ${text}`).toEqual({ a: text });
        expect(parse(`[${writeYaml(text, old)}, 1]\n`, { version }), `[${old} ${text}]`).toEqual([text, 1]);
      }
    }
    const value = { on: 'a', list: [1, 'b: c', { 'odd key:': true, true: 'no' }], none: [], empty: {} };
    if (version === '1.2') expect(parse(writeYamlEntry('value', value), { version })).toEqual({ value });
  });
});

describe('CSV', () => {
  it('is read by csv-parse with just the one cell changed', () => {
    const text = '# list\r\nname,group,"vlan",ttl\r\n"cam, 1",239.1.1.1,"red",\r\ncam 2,239.1.1.2,red,8\r\n';
    const rows = (list: string): string[][] => parseCsv(list, { comment: '#', skip_empty_lines: true });
    const before = rows(text);
    const changes = [
      [['streams', 0, 'legs', 0, 'vlan'], 'a "b", c', 1, 2],
      [['streams', 1, 'name'], ' x, "y" z', 2, 0],
      [['streams', 0, 'legs', 0, 'ttl'], 16, 1, 3],
      [['streams', 1, 'legs', 0, 'group'], '239.9.9.9', 2, 1],
    ] as const;
    for (const [path, value, row, column] of changes) {
      const meant = before.map((cells) => [...cells]);
      const cells = meant[row];
      if (cells === undefined) throw new Error('no such row');
      cells[column] = String(value).trim();
      const written = applyTo('list.csv', text, [[path, typeof value === 'string' ? value.trim() : value]]);
      expect(rows(textOf(written))).toEqual(meant);
    }
  });
});

describe('size', () => {
  it('thousands of edits of one file take a small multiple of reading it, and no more for each the more there are', () => {
    const fileOf = (count: number): { readonly text: string; readonly document: Document } => {
      const streams = Array.from({ length: count }, (_, index) => {
        const group = `239.${index >> 16}.${(index >> 8) & 255}.${index & 255}`;
        return `  - name: s${index}   # stream\n    legs: [{group: ${group}, port: 5004}]\n`;
      });
      const text = `rigproof: 1\nrig: Heron\nstreams:\n${streams.join('')}`;
      return { text, document: documentOf('big.yaml', text) };
    };
    const edited = ({ document }: { readonly document: Document }): string =>
      textOf(
        applyEdits(
          document,
          groupEdits(document, (group) => group.replace('239', '232')),
        ),
      );
    const { text, document } = fileOf(10_000);
    expect(edited({ document })).toBe(text.replaceAll('group: 239', 'group: 232'));
    // Positions once, reading once more and comparing.
    const read = (): Document => documentOf('big.yaml', text);
    expect(ratio(() => edited({ document }), read, 20)).toBeLessThan(20);
    expect(growth(16_000, fileOf, edited)).toBeLessThan(LINEAR);
    const one = editAt(document, ['streams', { name: 's9999' }, 'legs', 0, 'port'], 5006);
    expect(textOf(applyEdits(document, [one]))).toHaveLength(text.length);
  });
});

function documentOf(name: string, text: string): Document {
  const { document, problems } = readDocument({ name, text });
  if (document === undefined) throw new Error(problems[0]?.what);
  return document;
}

function containersOf(document: Document): readonly object[] {
  const found = new Set<object>();
  const collect = (value: unknown): void => {
    if (typeof value !== 'object' || value === null || found.has(value)) return;
    found.add(value);
    for (const inner of Object.values(value) as readonly unknown[]) collect(inner);
  };
  collect(document.value);
  return [...found].filter((one) => !Array.isArray(one));
}

/** Legs of senders, which may say a TTL and a DSCP. */
function legsOf(document: Document): readonly object[] {
  return containersOf(document).flatMap((one): readonly object[] => {
    const senders = 'senders' in one && Array.isArray(one.senders) ? (one.senders as readonly object[]) : [];
    return senders.flatMap((sender) =>
      'legs' in sender && Array.isArray(sender.legs) ? (sender.legs as object[]) : [],
    );
  });
}

/** Another first number, which put in twice gives the old one again. */
function swapped(group: string): string {
  const others: Readonly<Record<string, string>> = { 239: '225', 225: '239', 232: '226', 226: '232' };
  return group.replace(/^\d+/, (first) => others[first] ?? first);
}

function groupEdits(document: Document, change: (group: string) => string): readonly Edit[] {
  return containersOf(document).flatMap((container): readonly Edit[] =>
    'group' in container && typeof container.group === 'string'
      ? [{ document, container, key: 'group', value: change(container.group) }]
      : [],
  );
}

/** Comments of a text, in order, as the lexer of `yaml` tells them. */
function commentsOf(text: string): readonly string[] {
  return [...new Lexer().lex(text)].filter((token) => token.startsWith('#'));
}

/** Scalars of a text, in order, as `yaml` composes them. */
function scalarsOf(document: YamlDocument): readonly unknown[] {
  const values: unknown[] = [];
  visit(document, {
    Scalar: (_, node) => {
      if (isScalar(node)) values.push([node.value, node.type]);
    },
  });
  return values;
}

function sameButFor(before: string, after: string, changed: number): void {
  expect(commentsOf(after)).toEqual(commentsOf(before));
  const [old, now] = [before, after].map((text) => scalarsOf(parseDocument(text, { keepSourceTokens: true })));
  expect(now).toHaveLength(old?.length ?? -1);
  const different = (old ?? []).filter((value, index) => JSON.stringify(value) !== JSON.stringify(now?.[index]));
  expect(different.length).toBeLessThanOrEqual(changed);
}
