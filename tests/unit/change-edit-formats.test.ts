/** Values written into JSON, CSV and SDP, and edits as a change sheet keeps them. */
import { describe, expect, it } from 'vitest';
import { applyEdits } from '../../src/splice/edit.js';
import { findPath, pathsOf, type Path } from '../../src/splice/path.js';
import { readEdits, writeEdits } from '../../src/splice/written.js';
import { applyTo, documentFrom, editAt, textOf } from '../tools/edits.js';
import { vlan, plan } from '../tools/edit-texts.js';

describe('JSON', () => {
  const json = (text: string, ...changes: Parameters<typeof applyTo>[2]): string =>
    textOf(applyTo('dunlin.json', text, changes));

  it('is written as its neighbours are', () => {
    const pretty = '{\r\n\t"rig": "Dunlin",\r\n\t"vlans": [\r\n\t\t{\r\n\t\t\t"name": "red"\r\n\t\t}\r\n\t]\r\n}\r\n';
    expect(json(pretty, [['rig'], 'A "B"\\'], [vlan('id'), 10])).toBe(
      pretty.replace('"Dunlin"', '"A \\"B\\"\\\\"').replace('"red"', '"red",\r\n\t\t\t"id": 10'),
    );
    expect(json('{"rig":"O","vlans":[{"name":"red"}]}', [vlan('id'), 10], [vlan('subnet'), '10.0.0.0/8'])).toBe(
      '{"rig":"O","vlans":[{"name":"red","id":10,"subnet":"10.0.0.0/8"}]}',
    );
    expect(json('{"rig":"O","vlans":[{"name":"red","igmp":{}}]}', [[...vlan('igmp'), 'version'], 3])).toBe(
      '{"rig":"O","vlans":[{"name":"red","igmp":{"version": 3}}]}',
    );
  });

  it('loses entries with their commas', () => {
    const text =
      '{\n  "rig": "O",\n  "vlans": [\n    {"name": "red", "id": 1},\n    {"name": "blue", "id": 2}\n  ]\n}\n';
    expect(json(text, [['vlans', { name: 'blue' }], undefined], [vlan('id'), undefined])).toBe(
      '{\n  "rig": "O",\n  "vlans": [\n    {"name": "red"}\n  ]\n}\n',
    );
    expect(json(text, [['vlans', { name: 'red' }], undefined])).toBe(
      '{\n  "rig": "O",\n  "vlans": [\n    {"name": "blue", "id": 2}\n  ]\n}\n',
    );
  });
});

describe('CSV', () => {
  const csv = (text: string, ...changes: Parameters<typeof applyTo>[2]): string =>
    textOf(applyTo('list.csv', text, changes));
  const leg = (index: number, key: string): Path => ['streams', 0, 'legs', index, key];

  it('changes cells, in quotes where the separator needs them', () => {
    const text = 'name;group;vlan;port\r\ncam-1; 239.1.1.1 ;"red";5004\r\n# end\r\n';
    expect(csv(text, [leg(0, 'group'), '239.9.9.9'], [leg(0, 'port'), 5006], [leg(0, 'vlan'), 'r"d'])).toBe(
      'name;group;vlan;port\r\ncam-1; 239.9.9.9 ;"r""d";5006\r\n# end\r\n',
    );
    expect(csv(text, [['streams', 0, 'name'], 'a;b'])).toBe(text.replace('cam-1', '"a;b"'));
  });

  it('fills and clears cells of columns that are there', () => {
    const text = 'name,group a,ttl a,group b,ttl b\ncam-1,239.1.1.1,,239.2.1.1,-\n';
    expect(csv(text, [leg(0, 'ttl'), 16], [leg(1, 'ttl'), 8])).toBe(
      'name,group a,ttl a,group b,ttl b\ncam-1,239.1.1.1,16,239.2.1.1,8\n',
    );
    expect(csv(text.replace(',,', ',16,'), [leg(0, 'ttl'), undefined])).toBe(text);
    expect(applyTo('list.csv', text, [[leg(0, 'port'), 5004]]).problems).toMatchObject([
      {
        at: { line: 2 },
        what: 'the list has no empty cell in a column for this',
        instead: 'by hand, write `port: 5004`',
      },
    ]);
  });

  it('changes a cell of both legs for both or not at all', () => {
    const text = 'name,group a,group b,port\ncam-1,239.1.1.1,239.2.1.1,5004\n';
    expect(csv(text, [leg(0, 'port'), 5006], [leg(1, 'port'), 5006])).toBe(text.replace('5004', '5006'));
    expect(applyTo('list.csv', text, [[leg(0, 'port'), 5006]]).problems).toHaveLength(1);
  });

  it('changes group and port of one cell', () => {
    const text = 'name,group\ncam-1,239.1.1.1:5004\n';
    expect(csv(text, [leg(0, 'group'), '239.1.1.20'], [leg(0, 'port'), 20000])).toBe(
      'name,group\ncam-1,239.1.1.20:20000\n',
    );
  });
});

describe('SDP', () => {
  // RFC 4570 §3.2.1 gives the form of the source filter.
  const text = [
    'v=0',
    'o=- 1 1 IN IP4 10.0.0.1',
    's=cam-1',
    't=0 0',
    'm=video 5004 RTP/AVP 96',
    'c=IN IP4 239.1.1.1/32',
    'a=rtpmap:96 raw/90000',
    'a=source-filter: incl IN IP4 * 10.0.0.1',
    '',
  ].join('\r\n');

  it('changes what stands on a line by itself', () => {
    const leg: Path = ['streams', 0, 'legs', 0];
    expect(
      textOf(
        applyTo('a.sdp', text, [
          [[...leg, 'group'], '239.9.9.9'],
          [[...leg, 'port'], 20000],
        ]),
      ),
    ).toBe(text.replace('239.1.1.1', '239.9.9.9').replace('5004', '20000'));
    expect(applyTo('a.sdp', text, [[[...leg, 'dscp'], 34]]).problems).toMatchObject([
      { what: 'a session description has lines of its own for this', instead: 'by hand, write `dscp: 34`' },
    ]);
  });
});

describe('paths', () => {
  const text = 'rig: H\nvlans: [{name: a}, {name: b}, {name: b}, {id: 3}]\ndevices: [{name: c, legs: [{group: x}]}]\n';
  const document = documentFrom('a.yaml', text);

  it.each<{ readonly path: Path; readonly now?: Path }>([
    { path: ['rig'] },
    { path: ['vlans', { name: 'a' }, 'name'] },
    { path: ['vlans', 1, 'name'] },
    { path: ['vlans', 3, 'id'] },
    { path: ['vlans', { name: 'a' }] },
    { path: ['vlans', 0], now: ['vlans', { name: 'a' }] },
    { path: ['devices', { name: 'c' }, 'legs', 0, 'group'] },
  ])('$path leads to its entry and back', ({ path, now = path }) => {
    const found = findPath(document, path, new Map());
    expect(found).toBeDefined();
    if (found !== undefined) expect(pathsOf(document, [found])).toEqual([now]);
  });

  it.each<[Path]>([
    [['vlans', { name: 'b' }, 'id']],
    [['vlans', 'length']],
    [['rig', 'a']],
    [[]],
    [['__proto__', 'x']],
  ])('%j leads nowhere', (path) => {
    expect(findPath(document, path, new Map())).toBeUndefined();
  });
});

describe('edits on a sheet', () => {
  const text = plan('    id: 10', '    mtu: 9000', '');
  const document = documentFrom('rigs/heron.yaml', text);
  const edits = [
    editAt(document, vlan('id'), 11),
    editAt(document, vlan('mtu'), undefined),
    editAt(document, vlan('network'), 'red'),
  ];
  const stored: unknown = JSON.parse(JSON.stringify(writeEdits(edits, () => 'Heron/heron.yaml')));
  const written = (stored as ReturnType<typeof writeEdits>).map((one) => ({ ...one, old: one.old, new: one.new }));

  it('say where, what was and what will be', () => {
    expect(written).toEqual([
      { file: 'Heron/heron.yaml', path: ['vlans', { name: 'red' }, 'id'], old: 10, new: 11 },
      { file: 'Heron/heron.yaml', path: ['vlans', { name: 'red' }, 'mtu'], old: 9000, new: undefined },
      { file: 'Heron/heron.yaml', path: ['vlans', { name: 'red' }, 'network'], old: undefined, new: 'red' },
    ]);
  });

  it('lead back to the entries, wherever those have gone', () => {
    const moved = documentFrom('b.yaml', text.replace('vlans:\n', 'vlans:\n  - name: blue\n'));
    const read = readEdits(written, new Map([['Heron/heron.yaml', moved]]));
    expect(read).toMatchObject({ already: 0, problems: [] });
    const now = textOf(applyEdits(moved, read.edits));
    const again = readEdits(written, new Map([['Heron/heron.yaml', documentFrom('b.yaml', now)]]));
    expect(again).toEqual({ edits: [], already: 3, problems: [] });
  });

  it('are problems where the plan has changed', () => {
    const changed = documentFrom('b.yaml', text.replace('10', '12'));
    expect(readEdits(written, new Map([['Heron/heron.yaml', changed]])).problems).toMatchObject([
      {
        at: { file: 'b.yaml', line: 5, column: 9 },
        what: 'the plan has changed since the sheet was made: `12` stands here, and the sheet expects `10`',
      },
    ]);
    expect(readEdits(written, new Map()).problems).toMatchObject([{ at: { file: 'Heron/heron.yaml' } }]);
    const gone = documentFrom('b.yaml', 'rig: H\nvlans: []\n');
    // The entry to be taken out is not there any more; the other two have nowhere to go.
    expect(readEdits(written, new Map([['Heron/heron.yaml', gone]]))).toMatchObject({
      already: 1,
      problems: [{ at: { line: 1 } }, { at: { line: 1 } }],
    });
    const odd = [{ file: 'f', path: ['rig'], old: 'H', new: [null] }];
    expect(readEdits(odd, new Map([['f', gone]])).problems).toHaveLength(1);
  });
});
