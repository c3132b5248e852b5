import { describe, expect, it } from 'vitest';
import { loadPlan } from '../../src/plan/load.js';
import { buildDomains } from '../../src/model/vlans/domains.js';
import { linkDifference } from '../../src/model/vlans/link-differences.js';
import { missingLinks } from '../../src/model/vlans/missing-links.js';
import { portRanges } from '../../src/words/port-ranges.js';
import { isCircuit, knownEnds, linkEnds, linkLabel, sameMeaning, tagged } from '../../src/model/vlans/trunks.js';
import type { Link, Plan, Switch, Vlan } from '../../src/plan/types.js';

function planOf(...texts: readonly string[]): Plan {
  const { plan, problems } = loadPlan(texts.map((text, index) => ({ name: `${index}.yaml`, text })));
  expect(problems).toEqual([]);
  return plan;
}

function named<T extends { readonly name?: string | undefined }>(things: readonly T[], name: string): T {
  const found = things.find((thing) => thing.name === name);
  if (found === undefined) throw new Error(`no ${name}`);
  return found;
}

describe('link differences', () => {
  const difference = (a: string, b: string, link = ''): unknown => {
    const [only] = planOf(`
vlans: [{name: red, id: 10}, {name: blue, id: 20}, {name: green, id: 30}, {name: other-red, id: 10}]
switches: [{name: a, ports: [{name: 1${a}}]}, {name: b, ports: [{name: 1${b}}]}]
links: [{ends: [b/1, a/1]${link}}]
`).links;
    const found = only === undefined ? undefined : linkDifference(only);
    return (
      found && {
        missing: found.missing.map(({ end, vlans }) => [end.text, vlans.map((vlan) => vlan.name)]),
        untagged: found.untagged?.map((vlan) => vlan?.name),
      }
    );
  };

  it('are none where both ends carry the same, or one of them anything', () => {
    expect(difference(', trunk: [red, blue]', ', trunk: [blue, red]')).toBeUndefined();
    expect(difference(', trunk: all', ', trunk: [red]')).toBeUndefined();
    expect(difference('', ', trunk: [red]')).toBeUndefined();
    expect(difference(', access: red', ', native: red')).toBeUndefined();
    expect(difference(', trunk: [red]', ', trunk: [other-red]')).toBeUndefined();
  });

  it('name what each end lacks', () => {
    expect(difference(', trunk: [red, blue]', ', trunk: [red, green]')).toEqual({
      missing: [
        ['a/1', ['green']],
        ['b/1', ['blue']],
      ],
      untagged: undefined,
    });
    expect(difference(', trunk: [red]', ', trunk: [red, blue]', ', vlans: [red]')).toBeUndefined();
    expect(difference(', trunk: [red]', ', trunk: all', ', vlans: [red, green]')).toEqual({
      missing: [['a/1', ['green']]],
      untagged: undefined,
    });
  });

  it('name what goes untagged, and do not count that as lacking', () => {
    expect(difference(', access: red', ', access: blue')).toEqual({ missing: [], untagged: ['red', 'blue'] });
    expect(difference(', access: red', ', trunk: [red, blue]')).toEqual({ missing: [], untagged: ['red', undefined] });
    expect(difference(', trunk: [blue], native: red', ', trunk: [blue, red]')).toEqual({
      missing: [],
      untagged: ['red', undefined],
    });
    expect(difference(', trunk: [blue], native: red', ', trunk: [blue]')).toBeUndefined();
    expect(difference(', access: red', ', access: other-red')).toBeUndefined();
  });
});

describe('missing links', () => {
  const plan = planOf(`
vlans: [{name: red, id: 10}, {name: blue, id: 20}]
switches:
  - {name: start, ports: [{name: 1, access: red}, {name: 9, trunk: [red]}]}
  - {name: core, ports: [{name: 1, trunk: [red]}, {name: 2, trunk: [blue]}, {name: 3, trunk: [blue]}]}
  - {name: detour, ports: [{name: 1, trunk: [blue]}, {name: 2, trunk: [red]}]}
  - {name: finish, ports: [{name: 1, access: red}, {name: 8, trunk: [red]}, {name: 9, trunk: [blue]}]}
  - {name: island, ports: [{name: 1, access: red}, {name: 9, trunk: [red]}]}
  - {name: rock, ports: [{name: 9, trunk: [red]}]}
links:
  - {name: S, ends: [start/9, core/1]}
  - {name: F, ends: [core/2, finish/9]}
  - {name: D, ends: [core/3, detour/1]}
  - {name: E, ends: [detour/2, finish/8]}
  - {name: I, ends: [island/9, rock/9]}
`);
  const find = missingLinks(plan, buildDomains(plan));
  const names = (from: string, to: string): readonly string[] | undefined =>
    find(named<Vlan>(plan.vlans, 'red'), named<Switch>(plan.switches, from), named<Switch>(plan.switches, to))?.map(
      (link) => link.name ?? '',
    );

  it('are those of a way that needs fewest', () => {
    const found = names('start', 'finish');
    expect(found).toHaveLength(1);
    expect(['F', 'D']).toContain(found?.[0]);
  });

  it('are none where the VLAN gets there, and unknown where no link leads', () => {
    expect(names('start', 'core')).toEqual([]);
    expect(names('start', 'island')).toBeUndefined();
  });
});

describe('trunks', () => {
  it('send a native VLAN without a tag although the list has it', () => {
    const plan = planOf(
      'vlans: [{name: red}, {name: blue}]\nswitches: [{name: a, ports: [{name: 1, trunk: [red, blue], native: red}]}]\n',
    );
    const [port] = named<Switch>(plan.switches, 'a').ports.values();
    expect(port === undefined ? [] : tagged(port).map((vlan) => vlan.name)).toEqual(['blue']);
  });

  it('call a link the same whichever end is written first', () => {
    const [one, other, third] = planOf(`
switches: [{name: a}, {name: b}]
links: [{ends: [b/1, a/1]}, {ends: [a/1, b/1]}, {name: R1, ends: [a/2, x/2], medium: leased line}]
`).links as readonly [Link, Link, Link];
    expect(linkLabel(one)).toBe('a/1 to b/1');
    expect(linkLabel(other)).toBe(linkLabel(one));
    expect(knownEnds(one)?.map((end) => end.text)).toEqual(['a/1', 'b/1']);
    expect([linkLabel(third), linkEnds(third), knownEnds(third), isCircuit(third), isCircuit(one)]).toEqual([
      'R1',
      'a/2 to x/2',
      undefined,
      true,
      false,
    ]);
  });

  it('know one VLAN of two rigs by its subnet, else by its name', () => {
    const rig = (name: string, vlans: string): string => `rig: ${name}\nvlans: ${vlans}\n`;
    const { vlans } = planOf(
      rig('Heron', '[{name: shared}, {name: red, subnet: 10.1.0.0/16}, {name: home, subnet: 10.9.0.0/24}]'),
      rig('Dunlin', '[{name: shared}, {name: red, subnet: 10.2.0.0/16}, {name: conventions, subnet: 10.9.0.0/24}]'),
    );
    const [a, b, c, d, e, f] = vlans as readonly [Vlan, Vlan, Vlan, Vlan, Vlan, Vlan];
    expect([sameMeaning(a, d), sameMeaning(b, e), sameMeaning(c, f), sameMeaning(a, b), sameMeaning(a, a)]).toEqual([
      true,
      false,
      true,
      false,
      true,
    ]);
  });
});

describe('port ranges', () => {
  it.each([
    [['3', '1', '2'], '1 to 3'],
    [['1', '2'], '1 and 2'],
    [['1/9', '1/10', '1/11', '1/20', 'mgmt'], '1/9 to 1/11, 1/20 and mgmt'],
    [['49'], '49'],
    [[], ''],
  ])('%j is %s', (names, words) => {
    expect(portRanges(names)).toBe(words);
  });
});
