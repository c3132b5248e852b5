/**
 * Writing new values into plan files. Each expected text was written by hand; what must come out of each kind of text is
 * YAML 1.2.2, RFC 8259 (JSON), RFC 4180 (CSV) and RFC 8866 (SDP).
 */
import { describe, expect, it } from 'vitest';
import { type Path } from '../../src/splice/path.js';
import { applyTo, documentFrom } from '../tools/edits.js';
import { vlan, plan, yaml } from '../tools/edit-texts.js';

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
