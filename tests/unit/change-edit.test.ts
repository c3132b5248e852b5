/**
 * Writing new values into plan files. Each expected text was written by hand; what must come out of each kind of text is
 * YAML 1.2.2, RFC 8259 (JSON), RFC 4180 (CSV) and RFC 8866 (SDP).
 */
import { describe, expect, it } from 'vitest';
import { applyEdits } from '../../src/splice/edit.js';
import { findPath, pathsOf, type Path } from '../../src/splice/path.js';
import { readEdits, writeEdits } from '../../src/splice/written.js';
import { applyTo, documentFrom, editAt, textOf } from '../tools/edits.js';

const vlan = (key: string): Path => ['vlans', { name: 'red' }, key];

/** A plan with one VLAN, its keys as given. */
function plan(...lines: readonly string[]): string {
  return ['rigproof: 1', 'rig: Heron', 'vlans:', '  - name: red', ...lines].join('\n');
}

function yaml(text: string, ...changes: Parameters<typeof applyTo>[2]): string {
  return textOf(applyTo('heron.yaml', text, changes));
}

describe('a value of a YAML file', () => {
  it('is replaced and nothing else, with a comment behind it', () => {
    const text = plan('    subnet: 10.0.0.0/24\t # red,\ttabs', '    id: 10   # ten', '');
    expect(yaml(text, [vlan('subnet'), '10.0.9.0/24'], [vlan('id'), 11])).toBe(
      plan('    subnet: 10.0.9.0/24\t # red,\ttabs', '    id: 11   # ten', ''),
    );
  });

  it.each([
    ['plain', 'blue', 'blue'],
    ["'old'", 'blue', "'blue'"],
    ["'old'", "crew's", "'crew''s'"],
    ['"old"', 'say "go"', '"say \\"go\\""'],
    ['plain', 'yes', '"yes"'],
    ['plain', '12', '"12"'],
    // Sixties are numbers to readers of YAML 1.1 (its type `int`), so a MAC address of digits is quoted.
    ['plain', '00:11:22:33:44:55', '"00:11:22:33:44:55"'],
    ['plain', 'a: b', '"a: b"'],
    ['plain', 'a #b', '"a #b"'],
    ['plain', 'a, b', '"a, b"'],
    ['plain', 'fd00::', '"fd00::"'],
    ['plain', 'ff3e::8000:1', 'ff3e::8000:1'],
    ['plain', '- a', '"- a"'],
    ['plain', 'Uferstraße 3', 'Uferstraße 3'],
  ])('of %s becomes %j as %s', (old, value, written) => {
    const text = `rig: ${old}   # name\nvlans: []\n`;
    expect(yaml(text, [['rig'], value])).toBe(`rig: ${written}   # name\nvlans: []\n`);
  });

  it('keeps line ends, a byte order mark and a missing last line end', () => {
    const text = '\ufeff' + plan('    id: 10 # ten', '    subnet: 10.0.0.0/24').replaceAll('\n', '\r\n');
    expect(yaml(text, [vlan('id'), 20], [vlan('network'), 'red'])).toBe(
      '\ufeff' + plan('    id: 20 # ten', '    subnet: 10.0.0.0/24', '    network: red').replaceAll('\n', '\r\n'),
    );
  });

  it('is written behind a key that had none', () => {
    expect(yaml(plan('    subnet:   # later', '    id: 10'), [vlan('subnet'), '10.0.0.0/24'])).toBe(
      plan('    subnet: 10.0.0.0/24   # later', '    id: 10'),
    );
    expect(yaml('rig: H\nvlans: [{name: red, subnet:, id: 1}]\n', [vlan('subnet'), '10.0.0.0/24'])).toBe(
      'rig: H\nvlans: [{name: red, subnet: 10.0.0.0/24, id: 1}]\n',
    );
  });

  it('may be behind a quoted key', () => {
    expect(yaml(plan('    "id": 10', "    'subnet': 10.0.0.0/24"), [vlan('id'), 12])).toBe(
      plan('    "id": 12', "    'subnet': 10.0.0.0/24"),
    );
  });

  it('may be a list or a mapping, between brackets or in lines', () => {
    const text = plan(
      '    igmp:',
      '      querier:',
      '        - {on: a, address: 10.0.0.1}',
      '        - {on: b, address: 10.0.0.2}',
      '    # next',
      '    id: 10',
      '',
    );
    const querier: Path = [...vlan('igmp'), 'querier'];
    const written = plan(
      '    igmp:',
      '      querier:',
      '        - {on: c, address: 10.0.0.3}',
      '    # next',
      '    id: 10',
      '',
    );
    expect(yaml(text, [querier, [{ on: 'c', address: '10.0.0.3' }]])).toBe(written);
    expect(yaml(written, [querier, [{ on: 'c', address: '10.0.0.4' }, { on: 'd' }]])).toBe(
      plan(
        '    igmp:',
        '      querier:',
        '        - {on: c, address: 10.0.0.4}',
        '        - {on: d}',
        '    # next',
        '    id: 10',
        '',
      ),
    );
  });

  it('that says the same stays as it is written', () => {
    const text = plan('    id: 0x0A # ten');
    expect(yaml(text, [vlan('id'), 10])).toBe(text);
  });
});

describe('a new entry of a YAML file', () => {
  it('goes behind the last entry, before comments of the next', () => {
    const text = plan('    id: 10 # ten', '', '  # guests', '  - name: guests', '    id: 20', '');
    expect(yaml(text, [vlan('subnet'), '10.0.0.0/24'], [vlan('network'), 'red'])).toBe(
      plan(
        '    id: 10 # ten',
        '    subnet: 10.0.0.0/24',
        '    network: red',
        '',
        '  # guests',
        '  - name: guests',
        '    id: 20',
        '',
      ),
    );
  });

  it('goes behind nested lines and brackets over several lines', () => {
    const text = plan(
      '    igmp:',
      '      querier: [',
      '        {on: a, address: 10.0.0.1} # a',
      '        ]   # all',
      '',
    );
    expect(yaml(text, [vlan('id'), 10], [[...vlan('igmp'), 'version'], 3])).toBe(
      plan(
        '    igmp:',
        '      querier: [',
        '        {on: a, address: 10.0.0.1} # a',
        '        ]   # all',
        '      version: 3',
        '    id: 10',
        '',
      ),
    );
  });

  it.each([
    ['{name: red}', '{name: red, id: 10}'],
    ['{ name: red }', '{ name: red, id: 10 }'],
    ['{name: red,}', '{name: red, id: 10,}'],
    ['{name: red, igmp: {}}', '{name: red, igmp: {}, id: 10}'],
    ['{name: red, subnet: }', '{name: red, subnet:, id: 10 }'],
    ['{\n    name: red, # r\n    igmp: {} # g\n  }', '{\n    name: red, # r\n    igmp: {}, # g\n    id: 10\n  }'],
    ['{\n    name: red, # r\n    igmp: {}, # g\n  }', '{\n    name: red, # r\n    igmp: {}, # g\n    id: 10,\n  }'],
  ])('joins %j', (old, written) => {
    if (old.includes('subnet')) {
      // A key without a value is no plan; the text can still be written into when the value comes along.
      const text = yaml(`rig: H\nvlans:\n- ${old}\n`, [vlan('id'), 10], [vlan('subnet'), '10.0.0.0/24']);
      expect(text).toBe(`rig: H\nvlans:\n- ${written.replace('subnet:', 'subnet: 10.0.0.0/24')}\n`);
      return;
    }
    expect(yaml(`rig: H\nvlans:\n- ${old}\n`, [vlan('id'), 10])).toBe(`rig: H\nvlans:\n- ${written}\n`);
  });

  it('fills an empty mapping', () => {
    expect(yaml('rig: H\nvlans: [{name: red, igmp: {}}]\n', [[...vlan('igmp'), 'version'], 3])).toBe(
      'rig: H\nvlans: [{name: red, igmp: {version: 3}}]\n',
    );
  });

  it('joins a list', () => {
    const text = 'rig: H\nvlans:\n- name: red   # r\n# end\n';
    expect(yaml(text, [['vlans', 1], { name: 'blue', id: 2 }], [['vlans', 2], { name: 'ctl' }])).toBe(
      'rig: H\nvlans:\n- name: red   # r\n- {name: blue, id: 2}\n- {name: ctl}\n# end\n',
    );
    expect(yaml('rig: H\nvlans: [{name: red}]\n', [['vlans', 1], { name: 'blue' }])).toBe(
      'rig: H\nvlans: [{name: red}, {name: blue}]\n',
    );
  });
});

describe('an entry taken out of a YAML file', () => {
  it('takes its whole line with it', () => {
    const text = plan('    id: 10 # ten', '    # the subnet', '    subnet: 10.0.0.0/24', '    network: red');
    expect(yaml(text, [vlan('id'), undefined])).toBe(
      plan('    # the subnet', '    subnet: 10.0.0.0/24', '    network: red'),
    );
    expect(yaml(text, [vlan('network'), undefined])).toBe(
      plan('    id: 10 # ten', '    # the subnet', '    subnet: 10.0.0.0/24'),
    );
    expect(yaml(text, [['rigproof'], undefined])).toBe(text.slice('rigproof: 1\n'.length));
  });

  it('takes nested lines with it, and makes room for a new one', () => {
    const text = plan('    igmp:', '      snooping: true', '      version: 3', '    id: 10', '');
    expect(yaml(text, [vlan('igmp'), undefined], [vlan('id'), undefined], [vlan('network'), 'red'])).toBe(
      plan('    network: red', ''),
    );
    expect(yaml(text, [[...vlan('igmp'), 'snooping'], undefined], [[...vlan('igmp'), 'version'], undefined])).toBe(
      plan('    igmp:', '        {}', '    id: 10', ''),
    );
  });

  it('leaves the line of its dash to the next', () => {
    const text = 'rig: H\nlinks:\n  - name: P1  # pier\n    ends: [a/1, b/1]\n';
    expect(yaml(text, [['links', { name: 'P1' }, 'name'], undefined])).toBe('rig: H\nlinks:\n  - ends: [a/1, b/1]\n');
  });

  it.each([
    ['red', '[{name: blue}, {name: ctl}]'],
    ['blue', '[{name: red}, {name: ctl}]'],
    ['ctl', '[{name: red}, {name: blue}]'],
  ])('%s leaves no comma', (name, written) => {
    const text = 'rig: H\nvlans: [{name: red}, {name: blue}, {name: ctl}] # three\n';
    expect(yaml(text, [['vlans', { name }], undefined])).toBe(`rig: H\nvlans: ${written} # three\n`);
  });

  it('leaves comments between brackets', () => {
    const text = 'rig: H\nvlans: [ # all\n  {name: red}, # r\n  {name: blue}, # b\n  {name: ctl} # c\n ]\n';
    const written = yaml(text, [['vlans', { name: 'blue' }], undefined], [['vlans', { name: 'ctl' }], undefined]);
    for (const comment of ['# all', '# r', '# b', '# c']) expect(written).toContain(comment);
    expect(documentFrom('a.yaml', written).value).toEqual({ rig: 'H', vlans: [{ name: 'red' }] });
  });

  it('may be one of a list in lines', () => {
    const text = 'rig: H\nvlans:\n  - name: red\n    id: 1\n  # b\n  - name: blue\n    id: 2\n  - name: ctl\n';
    expect(yaml(text, [['vlans', { name: 'blue' }], undefined], [['vlans', { name: 'ctl' }, 'id'], 3])).toBe(
      'rig: H\nvlans:\n  - name: red\n    id: 1\n  # b\n  - name: ctl\n    id: 3\n',
    );
  });
});

describe('anchors and aliases', () => {
  const text = [
    'rig: H',
    'vlans:',
    '  - name: red',
    '    igmp: &igmp {version: 3}',
    '    mtu: &mtu 9000',
    '  - name: blue',
    '    igmp: *igmp',
    '    mtu: *mtu',
    '',
  ].join('\n');

  it('are told apart from entries of one place only', () => {
    const applied = applyTo('heron.yaml', text, [[['vlans', { name: 'red' }, 'igmp', 'version'], 2]]);
    expect(applied.text).toBeUndefined();
    expect(applied.problems).toEqual([
      {
        at: expect.objectContaining({ file: 'heron.yaml', line: 4, column: 27 }) as unknown,
        what: 'this entry is shared through an anchor (`&name`) and its aliases (`*name`)',
        instead: 'by hand, write it out where it should differ, then write `version: 2`',
      },
    ]);
  });

  it('of a plain value are a problem where the value would change elsewhere', () => {
    const applied = applyTo('heron.yaml', text, [[['vlans', { name: 'red' }, 'mtu'], 1500]]);
    expect(applied.text).toBeUndefined();
    expect(applied.problems).toMatchObject([{ at: { line: 8, column: 10 } }]);
  });

  it('give way to a value of their own', () => {
    expect(yaml(text, [['vlans', { name: 'blue' }, 'igmp'], { version: 2 }], [['vlans', 1, 'mtu'], 1500])).toBe(
      text.replace('*igmp', '{version: 2}').replace('*mtu', '1500'),
    );
  });

  it('are not taken away while they are used', () => {
    const applied = applyTo('heron.yaml', text, [[['vlans', { name: 'red' }, 'igmp'], undefined]]);
    expect(applied.text).toBeUndefined();
    expect(applied.problems).toHaveLength(1);
  });
});

describe('what can not be written', () => {
  it.each<[string, number, string, Path, string | undefined]>([
    ['comments inside', 6, plan('    igmp:', '      version: 3 # three', '      snooping: true'), vlan('igmp'), 'no'],
    ['text of several lines', 6, plan('    notes: |', '      a', '      b'), vlan('notes'), 'c'],
    ['a plan the schema does not take', 5, plan('    id: 10'), vlan('id'), 'ten'],
    ['an anchor before the key', 5, plan('    &k id: 10'), vlan('id'), undefined],
  ])('%s', (_, line, text, path, value) => {
    const applied = applyTo('heron.yaml', text, [[path, value]]);
    expect(applied.text).toBeUndefined();
    expect(applied.problems).toHaveLength(1);
    expect(applied.problems[0]?.at).toMatchObject({ file: 'heron.yaml', line });
    expect(applied.problems[0]?.instead).toMatch(/^by hand, /);
  });

  it('is two different values of one entry, or a value inside one that goes', () => {
    const text = plan('    igmp: {version: 3}');
    expect(
      applyTo('a.yaml', text, [
        [vlan('id'), 1],
        [vlan('id'), 2],
      ]).text,
    ).toBeUndefined();
    expect(
      applyTo('a.yaml', text, [
        [vlan('id'), 1],
        [vlan('id'), 1],
      ]).text,
    ).toBe(`${text}\n    id: 1`);
    const inside: Path = [...vlan('igmp'), 'version'];
    expect(
      applyTo('a.yaml', text, [
        [vlan('igmp'), undefined],
        [inside, 2],
      ]).problems,
    ).toHaveLength(1);
  });
});

describe('JSON', () => {
  const json = (text: string, ...changes: Parameters<typeof applyTo>[2]): string =>
    textOf(applyTo('osprey.json', text, changes));

  it('is written as its neighbours are', () => {
    const pretty = '{\r\n\t"rig": "Osprey",\r\n\t"vlans": [\r\n\t\t{\r\n\t\t\t"name": "red"\r\n\t\t}\r\n\t]\r\n}\r\n';
    expect(json(pretty, [['rig'], 'A "B"\\'], [vlan('id'), 10])).toBe(
      pretty.replace('"Osprey"', '"A \\"B\\"\\\\"').replace('"red"', '"red",\r\n\t\t\t"id": 10'),
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
