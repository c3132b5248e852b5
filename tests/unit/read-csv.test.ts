import { parse } from 'csv-parse/sync';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { readCsv } from '../../src/read/csv.js';
import { findSeparator, readRecords, type Separator } from '../../src/read/csv/records.js';
import { documentOf, leavesOf, problemsOf } from '../tools/tree-checks.js';

interface Stream {
  readonly name: string;
  readonly essence?: string;
  readonly format?: unknown;
  readonly legs: readonly Readonly<Record<string, unknown>>[];
}

function streamsOf(text: string): readonly Stream[] {
  return (documentOf(readCsv('heron.csv', text)).value as { readonly streams: readonly Stream[] }).streams;
}

/** The patch list of rig Heron. */
const LIST = [
  'Device,Signal Name,Essence,Format,Group A,Group B,UDP Port,PT,Source IP A,Source IP B,TTL,DSCP,Rack,Notes',
  'cam-1,video,Video,1080p50,239.20.1.1,239.120.1.1,5004,96,10.20.1.31,10.120.1.31,16,AF42,R1,"start, finish"',
  'stage-box,stage-box mics,audio,,239.20.2.1,,5004.0,97,10.20.1.41,,16,34,R2,',
];

const HERON: readonly Stream[] = [
  {
    name: 'cam-1 video',
    essence: 'video',
    format: '1080p50',
    legs: [
      { group: '239.20.1.1', source: '10.20.1.31', port: 5004, payloadType: 96, ttl: 16, dscp: 36 },
      { group: '239.120.1.1', source: '10.120.1.31', port: 5004, payloadType: 96, ttl: 16, dscp: 36 },
    ],
  },
  {
    name: 'stage-box mics',
    essence: 'audio',
    legs: [{ group: '239.20.2.1', source: '10.20.1.41', port: 5004, payloadType: 97, ttl: 16, dscp: 34 }],
  },
];

describe('a list', () => {
  it.each([
    ['LF', LIST.join('\n')],
    ['CRLF and a final line end', LIST.join('\r\n') + '\r\n'],
    ['lone CR', LIST.join('\r')],
    ['a byte order mark', '\ufeff' + LIST.join('\n')],
    ['semicolons', LIST.map((line) => line.replaceAll(',', ';').replace('start; finish', 'start, finish')).join('\n')],
    ['tabs', LIST.map((line) => line.replaceAll(',', '\t')).join('\n')],
    ['a separator line', 'sep=,\r\n' + LIST.join('\r\n')],
    [
      'every cell quoted',
      LIST.map((line) =>
        line
          .replaceAll('"', '')
          .replace('start, finish', 'start')
          .split(',')
          .map((cell) => `"${cell}"`)
          .join(','),
      ).join('\n'),
    ],
    [
      'comments, blank rows and headings between',
      [
        '# Heron, day 1',
        '',
        LIST[0],
        ',,,,,,,,,,,,,',
        LIST[1],
        '  ',
        '# audio',
        'AUDIO,,,,,,,,,,,,,',
        LIST[2],
        '',
      ].join('\n'),
    ],
  ])('reads the same with %s', (_, text) => {
    expect(streamsOf(text)).toEqual(HERON);
  });

  it('points each value at the content of its cell, quotes and blanks left out', () => {
    const text = 'name;group;port;source\n " cam ""1"" " ; 239.20.1.1 ;5004.0;"10.20.1.31"\n';
    const leaves = leavesOf(documentOf(readCsv('heron.csv', text)));
    expect(leaves.map(({ path, value, text: written }) => [path, value, written])).toEqual([
      ['streams.0.name', 'cam "1"', 'cam ""1""'],
      ['streams.0.legs.0.group', '239.20.1.1', '239.20.1.1'],
      ['streams.0.legs.0.source', '10.20.1.31', '10.20.1.31'],
      ['streams.0.legs.0.port', 5004, '5004.0'],
    ]);
  });

  it('points each key at its cell of the header', () => {
    const text = 'Stream,Mcast IP,Dst. Port\ncam-1,239.20.1.1,5004\n';
    const document = documentOf(readCsv('heron.csv', text));
    const leg = (document.value as { streams: readonly Stream[] }).streams[0]?.legs[0] ?? {};
    const entries = document.spans(new Set([leg])).get(leg)?.entries;
    const key = (name: string): string => text.slice(entries?.get(name)?.key?.start, entries?.get(name)?.key?.end);
    expect([key('group'), key('port')]).toEqual(['Mcast IP', 'Dst. Port']);
  });

  it('reads a list without any row', () => {
    expect(streamsOf('name,group\n')).toEqual([]);
  });
});

// The spellings are common practice, no source (essence.md §7 lists sheet columns, from memory).
describe('columns', () => {
  it.each([
    'group',
    'Group',
    'MULTICAST',
    'multicast_address',
    'Multicast-Group',
    'mcast',
    'Mcast IP',
    'Destination',
    'Dest. IP',
    'dst',
    'DEST.IP',
    'Group A',
    'group_1',
    'Primary Group',
    'Main Group',
    'Path 1',
    'Primary',
    'Red Group',
    'Amber',
    'Multicast (Red)',
    'Leg A group',
  ])('%j holds the first group', (header) => {
    expect(streamsOf(`name,${header}\ncam-1,239.20.1.1\n`)[0]?.legs).toEqual([{ group: '239.20.1.1' }]);
  });

  it.each([
    ['Group A', 'Group B'],
    ['group1', 'group2'],
    ['Primary Group', 'Secondary Group'],
    ['Main', 'Backup'],
    ['Red Multicast', 'Blue Multicast'],
    ['Amber', 'Blue'],
    ['Path 1', 'Path 2'],
    ['Group', 'Group B'],
    ['mcast a', 'mcast b'],
  ])('%j and %j hold the groups of a pair', (first, second) => {
    expect(streamsOf(`name,${first},${second}\ncam-1,239.20.1.1,239.120.1.1\n`)[0]?.legs).toEqual([
      { group: '239.20.1.1' },
      { group: '239.120.1.1' },
    ]);
  });

  it.each<readonly [string, string, Readonly<Record<string, unknown>>]>([
    ['Source', '10.20.1.31', { source: '10.20.1.31' }],
    ['Src IP', '10.20.1.31', { source: '10.20.1.31' }],
    ['Source A', '10.20.1.31', { source: '10.20.1.31' }],
    ['port', '5004', { port: 5004 }],
    ['Dst_Port', '5004', { port: 5004 }],
    ['Port A', '5004', { port: 5004 }],
    ['Source Port', '5004', { sourcePort: 5004 }],
    ['Payload Type', '96', { payloadType: 96 }],
    ['TTL', '16', { ttl: 16 }],
    ['DSCP', 'EF', { dscp: 46 }], // RFC 3246
    ['DSCP', 'cs7', { dscp: 56 }], // RFC 2474
    ['DSCP', 'AF41', { dscp: 34 }], // RFC 2597
    ['NIC', 'media-a', { interface: 'media-a' }],
    ['VLAN', '120', { vlan: '120' }],
    ['Network', 'red', { network: 'red' }],
    ['Packet Time', '1', { packetTime: '1 ms' }],
    ['ptime', '125 µs', { packetTime: '125 us' }],
    ['ptime', '"0,125"', { packetTime: '0.125 ms' }],
  ])('%s of %s', (header, cell, fact) => {
    const [stream] = streamsOf(`name,group,${header}\ncam-1,239.20.1.1,${cell}\n`);
    expect(stream?.legs).toEqual([{ group: '239.20.1.1', ...fact }]);
  });

  it('writes channels and packet time as a format where the list names none', () => {
    const format = { essence: 'audio', channels: 8, packetTime: '1 ms' };
    expect(streamsOf('name,group,type,channels,ptime\nmics,239.20.2.1,audio,8,1\n')).toEqual([
      { name: 'mics', format, legs: [{ group: '239.20.2.1' }] },
    ]);
  });

  it('shares a port between legs only when no leg is named in its column', () => {
    const ports = (header: string): readonly unknown[] | undefined => {
      const [stream] = streamsOf(`name,group a,group b,${header}\ncam-1,239.20.1.1,239.120.1.1,5004\n`);
      return stream?.legs.map((leg) => leg['port']);
    };
    expect(ports('port')).toEqual([5004, 5004]);
    expect(ports('port a')).toEqual([5004, undefined]);
    expect(ports('port b')).toEqual([undefined, 5004]);
  });

  it('never shares a source or a network between legs', () => {
    expect(
      streamsOf('name,group a,group b,source,network\ncam-1,239.20.1.1,239.120.1.1,10.20.1.31,red\n')[0]?.legs,
    ).toEqual([{ group: '239.20.1.1', source: '10.20.1.31', network: 'red' }, { group: '239.120.1.1' }]);
  });

  it('ignores columns of other trades', () => {
    const others = 'Rack,MAC,IP,Owner,Changed on,PTP domain,Switch,Part,#,Fibre,Risk,Truss,Course';
    const text = `name,group,${others}\ncam-1,239.20.1.1${',x'.repeat(others.split(',').length)}\n`;
    expect(streamsOf(text)[0]?.legs).toEqual([{ group: '239.20.1.1' }]);
  });
});

describe('cells', () => {
  it.each(['', '-', 'n/a', 'N/A', 'none', 'TBD', '—'])('%j says nothing', (cell) => {
    expect(streamsOf(`name,group,port\ncam-1,239.20.1.1,${cell}\n`)[0]?.legs).toEqual([{ group: '239.20.1.1' }]);
  });

  it('take a port written behind the group', () => {
    expect(streamsOf('name,group\ncam-1,239.20.1.1:5004\n')[0]?.legs).toEqual([{ group: '239.20.1.1', port: 5004 }]);
  });

  it('take a unicast destination as one', () => {
    expect(streamsOf('name,destination\ncam-1,10.20.1.99\n')[0]?.legs).toEqual([{ unicast: '10.20.1.99' }]);
  });

  it('take IPv6', () => {
    expect(streamsOf('name,group,source\ncam-1,ff3e::8000:1,2001:db8::31\n')[0]?.legs).toEqual([
      { group: 'ff3e::8000:1', source: '2001:db8::31' },
    ]);
  });

  it('leave a kind of device in a column `type` alone', () => {
    expect(streamsOf('name,group,type\ncam-1,239.20.1.1,Camera\n')[0]).not.toHaveProperty('essence');
  });
});

describe('names', () => {
  it.each([
    ['device,name', 'cam-1,video', 'cam-1 video'],
    ['device,name', 'cam-1,CAM-1 video', 'CAM-1 video'],
    ['device,name', 'cam-1,', 'cam-1'],
    ['device,name', ',video', 'video'],
    ['device,name', 'cam/1,video\u0007', 'cam-1 video'],
    ['device,name', ',', '239.20.1.1'],
    ['rack,row', '1,1', '239.20.1.1'],
  ])('%s of %s', (header, cells, name) => {
    expect(streamsOf(`${header},group\n${cells},239.20.1.1\n`)[0]?.name).toBe(name);
  });

  it('are kept apart when rows repeat one', () => {
    expect(
      streamsOf('name,group\nvideo,239.20.1.1\nvideo,239.20.1.2\nvideo 2,239.20.1.3\n').map(({ name }) => name),
    ).toEqual(['video', 'video 2', 'video 2 2']);
  });
});

describe('a row per leg', () => {
  it.each([
    ['leg', 'a', 'b', {}, {}],
    ['path', '1', '2', {}, {}],
    ['network', 'red', 'blue', { network: 'red' }, { network: 'blue' }],
    ['vlan', '120', '220', { vlan: '120' }, { vlan: '220' }],
    ['interface', 'a', 'b', { interface: 'a' }, { interface: 'b' }],
  ])('is one stream when a column %s tells rows apart', (header, first, second, one, two) => {
    const rows = [`cam-1,${first},239.20.1.1`, `mics,${first},239.20.2.1`, `cam-1,${second},239.120.1.1`];
    expect(streamsOf([`name,${header},group`, ...rows].join('\n'))).toEqual([
      {
        name: 'cam-1',
        legs: [
          { group: '239.20.1.1', ...one },
          { group: '239.120.1.1', ...two },
        ],
      },
      { name: 'mics', legs: [{ group: '239.20.2.1', ...one }] },
    ]);
  });

  it('puts the first leg first, whatever the order of the rows', () => {
    const text = 'name,leg,group\ncam-1,backup,239.120.1.1\ncam-1,main,239.20.1.1\n';
    expect(streamsOf(text)[0]?.legs.map((leg) => leg['group'])).toEqual(['239.20.1.1', '239.120.1.1']);
  });

  it('keeps a second leg the second when the first is missing', () => {
    expect(streamsOf('name,group a,group b\ncam-1,,239.120.1.1\n')[0]?.legs).toEqual([{}, { group: '239.120.1.1' }]);
  });
});

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
    const rows = Array.from({ length: 100_000 }, (_, i) => {
      const host = `${(i >> 8) & 255}.${i & 255}`;
      return `cam,239.${20 + (i >> 16)}.${host},239.${120 + (i >> 16)}.${host},5004`;
    });
    const text = `name,group a,group b,port\n${rows.join('\n')}\n`;
    const began = performance.now();
    const { document } = readCsv('heron.csv', text);
    expect(performance.now() - began).toBeLessThan(10_000);
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
