/** Stream lists that can not be read, large ones, and cells by RFC 4180. */
import { parse } from 'csv-parse/sync';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { readCsv } from '../../src/read/csv.js';
import { findSeparator, readRecords, type Separator } from '../../src/read/csv/records.js';
import { documentOf, leavesOf, problemsOf } from '../tools/tree-checks.js';
import { type Stream } from '../tools/stream-lists.js';
import { growth, LINEAR } from '../tools/growth.js';

describe('problems', () => {
  it.each<readonly [string, string, string, string]>([
    ['', '1:1', 'no header row', '`name,group,port`'],
    ['name,port\ncam-1,5004\n', '1:1', 'no column of this list holds multicast groups', '`mcast`'],
    ['name,gruop\ncam-1,239.20.1.1\n', '1:1', 'no column of this list holds', '`gruop` may have been meant'],
    ['name,group,sorce\n', '1:12', 'column `sorce`', 'write `source`'],
    ['name,group,Desination Port\n', '1:12', 'column `Desination Port`', 'write `destination port`'],
    ['name,group,Payload Typ\n', '1:12', 'column `Payload Typ`', 'write `payload type`'],
    ['name,group,multicast\n', '1:12', 'means the same as column `group`', '`multicast b`'],
    ['name,label,group\n', '1:6', 'means the same as column `name`', 'delete one'],
    ['name,group,port\ncam-1,239.20.1.1,50x4\n', '2:18', 'UDP port `50x4`', 'from 0 to 65535'],
    ['name,group,port\ncam-1,239.20.1.1,70000\n', '2:18', 'UDP port `70000`', 'from 0 to 65535'],
    ['name,group,port\ncam-1,239.20.1.1,5004.5\n', '2:18', 'UDP port `5004.5`', 'whole number'],
    ['name,group,ttl\ncam-1,239.20.1.1,999\n', '2:18', 'TTL `999`', 'from 0 to 255'],
    ['name,group,pt\ncam-1,239.20.1.1,"128"\n', '2:19', 'payload type `128`', 'from 0 to 127'],
    ['name,group,dscp\ncam-1,239.20.1.1,AF51\n', '2:18', 'DSCP `AF51`', 'from 0 to 63'],
    ['name,group,ptime\nmics,239.20.1.1,125\n', '2:17', 'packet time `125`', '`125 us`'],
    ['name,group\ncam-1,239.20.1\n', '2:7', '`239.20.1` is not a multicast group', '239.20.1.1'],
    ['name,group\ncam-1,239.20.1.1/32\n', '2:7', '`239.20.1.1/32` is not a multicast group', '239.20.1.1'],
    ['name,group,source\ncam-1,239.20.1.1,cam\n', '2:18', '`cam` is not a source address', '10.20.1.31'],
    ['name,group\ncam-1,#REF!\n', '2:7', 'spreadsheet error `#REF!`', '239.20.1.1'],
    ['group,name\n#N/A,cam-1\n', '2:1', 'spreadsheet error `#N/A`', '239.20.1.1'],
    ['name,group,port\ncam-1,239.20.1.1,=B1+1\n', '2:18', 'formula `=B1+1`, which is not evaluated', 'whole number'],
    ['name,group,format\ncam-1,239.20.1.1,1080p/50\n', '2:18', 'format `1080p/50`', 'the name the plan gives'],
    ['name,group\ncam-1,239.20.1.1,5004\n', '2:18', 'more cells than the header', 'double quotes'],
    ['name,group\n"cam-1,239.20.1.1\n', '2:1', 'never closed', 'close it'],
    ['name,group\n"cam-1"x,239.20.1.1\n', '2:8', 'text follows', 'whole cell'],
    ['\n# a\n\nname,"multi\nline",group\ncam-1,x,239\n', '6:9', '`239` is not a multicast group', '239.20.1.1'],
    ['\u0000\u0001\u0002PK\u0003\u0004,,;;\u0000', '1:1', 'no column of this list holds', '`group`'],
  ])('%j', (text, place, what, instead) => {
    const result = readCsv('heron.csv', text);
    expect(result.document).toBeUndefined();
    expect(problemsOf(result)).toHaveLength(1);
    expect(problemsOf(result)[0]?.split(' ')[0]).toBe(place);
    expect(problemsOf(result)[0]).toContain(what);
    expect(result.problems[0]?.instead).toContain(instead);
  });

  it('ends at the end of the cell', () => {
    const [problem] = readCsv('heron.csv', 'name,group,port\ncam-1,239.20.1.1,50x4\n').problems;
    expect(problem?.at).toEqual({ file: 'heron.csv', line: 2, column: 18, endLine: 2, endColumn: 22 });
  });

  it('are ten at most', () => {
    expect(readCsv('heron.csv', `name,group\n${'cam,x\n'.repeat(100)}`).problems).toHaveLength(10);
  });
});

describe('a large list', () => {
  it('of 100,000 streams stays linear', () => {
    const list = (streams: number): string => {
      const rows = Array.from({ length: streams }, (_, i) => {
        const host = `${(i >> 8) & 255}.${i & 255}`;
        return `cam,239.${20 + (i >> 16)}.${host},239.${120 + (i >> 16)}.${host},5004`;
      });
      return `name,group a,group b,port\n${rows.join('\n')}\n`;
    };
    expect(growth(40_000, list, (text) => readCsv('heron.csv', text))).toBeLessThan(LINEAR);
    const { document } = readCsv('heron.csv', list(100_000));
    const { streams } = document?.value as { streams: readonly Stream[] };
    expect(streams).toHaveLength(100_000);
    expect(streams.at(-1)).toMatchObject({ name: 'cam 100000', legs: [{ group: '239.21.134.159' }, { port: 5004 }] });
  });
});

// Oracle: the library csv-parse, told to be as lenient as this reader is meant to be.
describe('cells by RFC 4180, against csv-parse', () => {
  const separator = fc.constantFrom<Separator>(',', ';', '\t');
  const cell = fc.oneof(
    fc.stringMatching(/^[a-z0-9.:= é"]{0,12}$/).filter((text) => !text.trimStart().startsWith('"')),
    fc.stringMatching(/^[a-z,;\t\n\r" ]{0,12}$/).map((text) => `"${text.replaceAll('"', '""')}"`),
  );
  const table = fc.array(fc.array(cell, { minLength: 1, maxLength: 6 }), { maxLength: 12 });

  it('reads the same cells', () => {
    let cells = 0;
    fc.assert(
      fc.property(table, separator, fc.constantFrom('\n', '\r\n', '\r'), (rows, between, end) => {
        const clean = rows.map((row) =>
          row.map((text) => (text.startsWith('"') ? text : text.replaceAll(between, ''))),
        );
        const text = clean.map((row) => row.join(between)).join(end);
        const ours = [...readRecords(text, 0, between)];
        expect(ours.every(({ fault }) => fault === undefined)).toBe(true);
        const library = parse(text, {
          delimiter: between,
          record_delimiter: ['\r\n', '\n', '\r'],
          relax_column_count: true,
          relax_quotes: true,
          skip_empty_lines: true,
          ltrim: between !== '\t',
          rtrim: between !== '\t',
        }) as unknown as readonly (readonly string[])[];
        const theirs = library
          .map((row) => row.map((one) => one.trim()))
          .filter((row) => row.some((one) => one !== ''));
        expect(ours.map((record) => record.cells.map((one) => one.text))).toEqual(theirs);
        cells += theirs.flat().length;
      }),
      { numRuns: 1000 },
    );
    expect(cells).toBeGreaterThan(1000);
  });

  it.each<readonly [string, Separator]>([
    ['a,b,c\n1;2,3,4\n', ','],
    ['a;b;c\n', ';'],
    ['a\tb\n', '\t'],
    ['"a,b,c";d\n', ';'],
    ['a\n', ','],
    ['sep=;\na,b\n', ';'],
    ['# a,b,c\n;;\nd;e,;f\n', ';'],
    ['a;b,c\n', ','],
  ])('finds the separator of %j', (text, expected) => {
    expect(findSeparator(text).separator).toBe(expected);
  });
});

describe('whatever the bytes', () => {
  const text = fc.oneof(
    fc.constantFrom(
      '239.20.1.1',
      '10.20.1.31',
      '5004',
      '5004.0',
      '96',
      'cam',
      '"',
      '""',
      '# x',
      '#REF!',
      'EF',
      'tbd',
      '1 ms',
      'a',
    ),
    fc.string(),
  );
  const header = fc.array(
    fc.constantFrom(
      'name',
      'device',
      'group',
      'group b',
      'port',
      'pt',
      'source',
      'source b',
      'ttl',
      'vlan',
      'leg',
      'essence',
      '#',
    ),
    { maxLength: 8 },
  );
  const body = fc.array(fc.array(text, { maxLength: 8 }), { maxLength: 10 });
  const lists = fc
    .tuple(header, body, fc.constantFrom(',', ';', '\t'))
    .map(([head, rows, between]) => [head, ...rows].map((row) => row.join(between)).join('\n'));

  it('never throws', () => {
    fc.assert(
      fc.property(fc.oneof(fc.string({ unit: 'binary' }), lists), (list) => {
        const result = readCsv('any.csv', list);
        expect(result.document !== undefined || result.problems.length > 0).toBe(true);
        expect(result.problems.length).toBeLessThanOrEqual(10);
      }),
      { numRuns: 2000 },
    );
  });

  it('spans give back each value, and the tree is a plan', () => {
    const valid: Readonly<Record<string, fc.Arbitrary<string>>> = {
      name: fc.string({ unit: fc.constantFrom('a', 'é', '/', ' ', '"', ',') }),
      group: fc.ipV4().filter((address) => !address.startsWith('0.')),
      source: fc.ipV4(),
      port: fc.nat(65535).map(String),
      ttl: fc.nat(255).map(String),
    };
    const keys = Object.keys(valid);
    const quoted = (one: string): string => `"${one.replaceAll('"', '""')}"`;
    const row = fc.tuple(...Object.values(valid)).map((cells) => cells.map(quoted).join(','));
    let checked = 0;
    fc.assert(
      fc.property(fc.array(row, { maxLength: 10 }), (rows) => {
        const list = [keys.join(','), ...rows].join('\r\n');
        for (const { key, value, text: written } of leavesOf(documentOf(readCsv('any.csv', list)))) {
          if (key === 'name') continue; // quotes undone, slashes replaced, numbered
          expect(written).toBe(String(value));
          checked++;
        }
      }),
      { numRuns: 500 },
    );
    expect(checked).toBeGreaterThan(1000);
  });
});
