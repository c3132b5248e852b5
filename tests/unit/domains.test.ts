import { describe, expect, it } from 'vitest';
import { buildDomains, type Domain, type Domains } from '../../src/model/vlans/domains.js';
import type { Plan } from '../../src/plan/types.js';
import { loadPlan } from '../../src/plan/load.js';

function read(...texts: readonly string[]): {
  readonly plan: Plan;
  readonly domains: Domains;
  readonly at: (device: string) => string;
  readonly routed: (device: string) => string;
} {
  const { plan, problems } = loadPlan(texts.map((text, index) => ({ name: `${index}.yaml`, text })));
  expect(problems).toEqual([]);
  const domains = buildDomains(plan);
  const interfaceOf = (name: string): Plan['interfaces'][number] => {
    const found = plan.interfaces.find((one) => one.device.name === name);
    if (found === undefined) throw new Error(`no device ${name}`);
    return found;
  };
  return {
    plan,
    domains,
    at: (name) => nameOf(domains.switched(interfaceOf(name)), partsOf(plan, domains)),
    routed: (name) => domains.reach(interfaceOf(name)).key,
  };
}

/** The key, and the switches where several parts share it. */
function nameOf({ key, switches }: Domain, parts: readonly Domain[]): string {
  const shared = parts.filter((one) => one.key === key).length > 1;
  return shared ? `${key} on ${switches.map(({ name }) => name).join(', ')}` : key;
}

function partsOf(plan: Plan, domains: Domains): readonly Domain[] {
  const onSwitches = plan.vlans.flatMap((vlan) => plan.switches.flatMap((one) => domains.onSwitch(one, vlan) ?? []));
  return [...new Set([...onSwitches, ...plan.interfaces.map((one) => domains.switched(one))])];
}

const HOSTS = `
devices:
  - {name: cam, interfaces: [{name: red, vlan: red, port: leaf-a/1}]}
  - {name: replay, interfaces: [{name: red, vlan: red, port: leaf-b/1}]}
`;

function twoLeaves(a: string, b: string, link = '', vlans = '[{name: red, id: 10}, {name: blue, id: 20}]'): string {
  return `
vlans: ${vlans}
switches:
  - {name: leaf-a, ports: [{name: 1, access: red}, {name: 9${a}}]}
  - {name: leaf-b, ports: [{name: 1, access: red}, {name: 9${b}}]}
links: [{ends: [leaf-a/9, leaf-b/9]${link}}]
${HOSTS}`;
}

describe('a VLAN over links', () => {
  it('is one domain where both ends of the trunk carry it', () => {
    const { at, domains } = read(twoLeaves(', trunk: [red, blue]', ', trunk: [red]'));
    expect(at('cam')).toBe('red');
    expect(at('replay')).toBe('red');
    expect(domains.joins).toEqual([]);
  });

  it('is two islands where one end does not carry it, each named after its switch', () => {
    const { at, domains, plan } = read(twoLeaves(', trunk: [red, blue]', ', trunk: [blue]'));
    expect(at('cam')).toBe('red on leaf-a');
    expect(at('replay')).toBe('red on leaf-b');
    const blue = plan.vlans.find((vlan) => vlan.name === 'blue');
    if (blue === undefined) throw new Error('no blue');
    expect(plan.switches.map((one) => domains.onSwitch(one, blue)?.key)).toEqual(['blue', 'blue']);
  });

  it('keeps its key in both islands, so that a link fault elsewhere changes no key of a finding', () => {
    const { domains, plan } = read(twoLeaves(', trunk: [red, blue]', ', trunk: [blue]'));
    const [cam, replay] = plan.interfaces.map((one) => domains.switched(one));
    expect(cam).not.toBe(replay);
    expect([cam?.title, replay?.title]).toEqual(['VLAN red on leaf-a', 'VLAN red on leaf-b']);
    expect([cam?.key, replay?.key]).toEqual(['red', 'red']);
  });

  it('is two islands where the link is said not to carry it', () => {
    expect(read(twoLeaves(', trunk: [red, blue]', ', trunk: [red, blue]', ', vlans: [blue]')).at('cam')).toBe(
      'red on leaf-a',
    );
  });

  it('passes where `all` meets `all`, and where `all` meets a list that has it', () => {
    expect(read(twoLeaves(', trunk: all', ', trunk: all')).at('cam')).toBe('red');
    expect(read(twoLeaves(', trunk: all', ', trunk: [red]')).at('replay')).toBe('red');
    expect(read(twoLeaves(', trunk: all', ', trunk: [blue]')).at('replay')).toBe('red on leaf-b');
  });

  it('does not pass where one end tags it and the other does not', () => {
    expect(read(twoLeaves(', trunk: [red]', ', access: red')).at('cam')).toBe('red on leaf-a');
    // a native VLAN that the trunk lists goes untagged all the same
    expect(read(twoLeaves(', trunk: [red]', ', trunk: [red, blue], native: red')).at('cam')).toBe('red on leaf-a');
    expect(read(twoLeaves(', trunk: all, native: red', ', access: red')).at('cam')).toBe('red');
  });

  it('reaches over a switch that has no host in it', () => {
    const { at } = read(`
vlans: [{name: red, id: 10}]
switches:
  - {name: leaf-a, ports: [{name: 1, access: red}, {name: 9, trunk: [red]}]}
  - {name: core, ports: [{name: 1, trunk: all}, {name: 2, trunk: all}]}
  - {name: leaf-b, ports: [{name: 1, access: red}, {name: 9, trunk: [red]}]}
links: [{ends: [leaf-a/9, core/1]}, {ends: [core/2, leaf-b/9]}]
${HOSTS}`);
    expect(at('cam')).toBe('red');
    expect(at('replay')).toBe('red');
  });
});

describe('what a link carries', () => {
  const over = (...ends: readonly [string, string, string?]): readonly string[] => {
    const { domains, plan } = read(twoLeaves(...ends));
    const [link] = plan.links;
    return link === undefined ? [] : domains.overLink(link).map((domain) => domain.key);
  };

  it('is what both ends and the link itself let pass', () => {
    expect(over(', trunk: [red, blue]', ', trunk: [blue, red]')).toEqual(['red', 'blue']);
    expect(over(', trunk: [red, blue]', ', trunk: [blue]')).toEqual(['blue']);
    expect(over(', trunk: [red, blue]', ', trunk: all', ', vlans: [red]')).toEqual(['red']);
    expect(over(', access: red', ', access: red')).toEqual(['red']);
    expect(over(', access: red', ', trunk: [red]')).toEqual([]);
  });

  it('is whatever its switches know where nobody says', () => {
    expect(over('', '')).toEqual(['red']);
    expect(over('', ', trunk: [blue, red]')).toEqual(['blue', 'red']);
  });
});

describe('`trunk: all`', () => {
  it('carries what the switch knows: equal ids on switches that nothing joins stay apart', () => {
    const { domains } = read(`
vlans: [{name: red, id: 10}, {name: blue, id: 10}]
switches:
  - {name: red-core, ports: [{name: 1, access: red}, {name: 9, trunk: all}]}
  - {name: red-leaf, ports: [{name: 9, trunk: all}]}
  - {name: blue-core, ports: [{name: 1, access: blue}, {name: 9, trunk: all}]}
  - {name: blue-leaf, ports: [{name: 9, trunk: all}]}
links: [{ends: [red-core/9, red-leaf/9]}, {ends: [blue-core/9, blue-leaf/9]}]
`);
    expect(domains.joins).toEqual([]);
  });

  it('joins them over switches that know neither', () => {
    const { domains } = read(`
vlans: [{name: red, id: 10}, {name: blue, id: 10}]
switches:
  - {name: red-core, ports: [{name: 1, access: red}, {name: 9, trunk: all}]}
  - {name: patch-a, ports: [{name: 1, trunk: all}, {name: 2, trunk: all}]}
  - {name: patch-b, ports: [{name: 1, trunk: all}, {name: 2, trunk: all}]}
  - {name: blue-core, ports: [{name: 1, access: blue}, {name: 9, trunk: all}]}
links: [{ends: [red-core/9, patch-a/1]}, {ends: [patch-a/2, patch-b/1]}, {ends: [patch-b/2, blue-core/9]}]
`);
    expect(domains.joins.map((join) => join.vlans.map((vlan) => vlan.name).sort())).toEqual([['blue', 'red']]);
  });
});

describe('what is not stated', () => {
  it('leaves a VLAN whole without links', () => {
    const { at, domains } = read(`
vlans: [{name: red, id: 10}, {name: again, id: 10}]
switches:
  - {name: leaf-a, ports: [{name: 1, access: red}]}
  - {name: leaf-b, ports: [{name: 1, access: red}]}
${HOSTS}`);
    expect(at('cam')).toBe('red');
    expect(at('replay')).toBe('red');
    expect(domains.joins).toEqual([]);
  });

  it('lets a link of unknown VLANs carry any, one silent end what the other carries', () => {
    expect(read(twoLeaves('', '')).at('replay')).toBe('red');
    expect(read(twoLeaves('', '', ', vlans: [blue]')).at('replay')).toBe('red on leaf-b');
    expect(read(twoLeaves('', ', trunk: [red]')).at('replay')).toBe('red');
    expect(read(twoLeaves('', ', trunk: [blue]')).at('replay')).toBe('red on leaf-b');
    expect(read(twoLeaves('', ', access: red')).at('replay')).toBe('red');
  });

  it('leaves a VLAN whole that stands on a switch without any link', () => {
    const text = twoLeaves(', trunk: [blue]', ', trunk: [blue]').replace(
      'switches:',
      'switches:\n  - {name: leaf-c, ports: [{name: 1, access: red}]}',
    );
    expect(read(text).at('replay')).toBe('red');
  });

  it('leaves VLANs whole where a link or trunk names what nobody knows', () => {
    expect(read(twoLeaves(', trunk: [red, bleu]', ', trunk: [blue]')).at('replay')).toBe('red');
    expect(read(twoLeaves(', trunk: [red]', ', trunk: [blue]').replace('leaf-b/9]', 'leaf-x/9]')).at('replay')).toBe(
      'red',
    );
  });

  it('puts a host on an unstated port where most hosts of its VLAN are, and says that it is not placed', () => {
    const { at, domains, plan } = read(`${twoLeaves(', trunk: [blue]', ', trunk: [blue]')}
  - {name: cam-2, interfaces: [{name: red, vlan: red, port: leaf-b/1}]}
  - {name: laptop, interfaces: [{name: red, vlan: red}]}
`);
    expect(at('laptop')).toBe('red on leaf-b');
    expect(plan.interfaces.map((one) => [one.device.name, domains.placed(one)])).toEqual([
      ['cam', true],
      ['replay', true],
      ['cam-2', true],
      ['laptop', false],
    ]);
  });

  it('takes a network without a VLAN as a whole, one with one VLAN for that VLAN, and nothing for the path of its number', () => {
    const { at, domains } = read(`
networks: [{name: red}, {name: ctl}]
vlans: [{name: red-video, network: red}]
devices:
  - {name: cam, interfaces: [{name: a, network: red}]}
  - {name: desk, interfaces: [{name: a, network: ctl}]}
`);
    expect(at('cam')).toBe('red-video');
    expect(at('desk')).toBe('ctl');
    expect(domains.switched({ vlan: undefined, network: undefined, index: 1 }).title).toBe('the second legs');
    expect(domains.switched({ vlan: undefined, network: undefined })).toBe(
      domains.switched({ vlan: undefined, network: undefined, index: 0 }),
    );
  });
});

describe('two entries that are one VLAN', () => {
  it('are joined by an untagged link', () => {
    const { at, domains } = read(
      twoLeaves(', access: red', ', access: blue')
        .replace('{name: 1, access: red}, {name: 9, access: blue}', '{name: 1, access: blue}, {name: 9, access: blue}')
        .replace('vlan: red, port: leaf-b/1', 'vlan: blue, port: leaf-b/1'),
    );
    expect(at('cam')).toBe(at('replay'));
    expect(domains.joins.map((join) => [join.tagged, join.vlans.map((vlan) => vlan.name)])).toEqual([
      [false, ['red', 'blue']],
    ]);
  });

  it('are joined on one switch by one id, links or not', () => {
    const { at, domains } = read(`
vlans: [{name: red, id: 10}, {name: audio, id: 10}]
switches: [{name: leaf-a, ports: [{name: 1, access: red}, {name: 2, access: audio}]}]
devices:
  - {name: cam, interfaces: [{name: red, vlan: red, port: leaf-a/1}]}
  - {name: box, interfaces: [{name: red, vlan: audio, port: leaf-a/2}]}
`);
    expect(at('cam')).toBe(at('box'));
    expect(domains.joins).toHaveLength(1);
    expect(domains.joins[0]?.by).toHaveProperty('switch');
  });

  it('are joined across rigs where a trunk carries one id for both, and not without it', () => {
    const heron = (trunk: string): string => `
rig: Heron
vlans: [{name: red, id: 10}, {name: blue, id: 20}]
switches: [{name: heron-core, ports: [{name: 1, access: red}, {name: 9, trunk: ${trunk}}]}]
devices: [{name: cam, interfaces: [{name: red, vlan: red, port: heron-core/1}]}]
links: [{ends: [heron-core/9, dunlin-core/9]}]
`;
    const dunlin = `
rig: Dunlin
vlans: [{name: pictures, id: 10}, {name: sound, id: 30}]
switches: [{name: dunlin-core, ports: [{name: 1, access: pictures}, {name: 9, trunk: all}]}]
devices: [{name: wall, interfaces: [{name: red, vlan: pictures, port: dunlin-core/1}]}]
`;
    const joined = read(heron('[red, blue]'), dunlin);
    expect(joined.at('cam')).toBe(joined.at('wall'));
    expect(joined.domains.joins.map((join) => [join.tagged, join.vlans.map((vlan) => vlan.name)])).toEqual([
      [true, ['red', 'pictures']],
    ]);
    const apart = read(heron('[blue]'), dunlin);
    expect(apart.at('cam')).not.toBe(apart.at('wall'));
    expect(apart.domains.joins).toEqual([]);
  });

  it('of two rigs keep keys of their own where they share a name', () => {
    const rig = (name: string): string => `
rig: ${name}
vlans: [{name: red}]
devices: [{name: cam-${name}, interfaces: [{name: red, vlan: red}]}]
`;
    const { at } = read(rig('Heron'), rig('Dunlin'));
    expect(at('cam-Heron')).toBe('red of Heron');
    expect(at('cam-Dunlin')).toBe('red of Dunlin');
  });
});

describe('routing', () => {
  const plan = (red: string, blue: string): string => `
vlans:
  - {name: red${red}}
  - {name: blue${blue}}
  - {name: green}
switches: [{name: core-a}, {name: core-b}]
devices:
  - {name: cam, interfaces: [{name: a, vlan: red}]}
  - {name: wall, interfaces: [{name: a, vlan: blue}]}
  - {name: desk, interfaces: [{name: a, vlan: green}]}
`;

  it('joins reachability domains and no switched ones', () => {
    const { at, routed } = read(plan(', routing: {mode: pim-ssm}', ', routing: {mode: pim-ssm}'));
    expect(at('cam')).not.toBe(at('wall'));
    expect(routed('cam')).toBe(routed('wall'));
    expect(routed('desk')).toBe('green');
  });

  it('joins over one router only', () => {
    const apart = read(
      plan(', routing: {mode: pim-sm, routers: [core-a]}', ', routing: {mode: pim-sm, routers: [core-b]}'),
    );
    expect(apart.routed('cam')).not.toBe(apart.routed('wall'));
    const shared = read(
      plan(', routing: {mode: pim-sm, routers: [core-a, core-b]}', ', routing: {mode: pim-sm, routers: [core-b]}'),
    );
    expect(shared.routed('cam')).toBe(shared.routed('wall'));
  });

  it('joins nothing where it is stated as none, or not at all', () => {
    const none = read(plan(', routing: {mode: none}', ', routing: {mode: pim-sm}'));
    expect(none.routed('cam')).not.toBe(none.routed('wall'));
    const silent = read(plan('', ''));
    expect(silent.routed('cam')).not.toBe(silent.routed('wall'));
  });
});
