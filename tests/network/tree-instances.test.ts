/**
 * A tree for each MSTP instance, where all switches state the same ones. Topology V13 (two cores, access switches on both)
 * and the pruned triangle are measured on Open vSwitch 3.1 with one tree (RSTP); that an instance's tree is such a tree with
 * priorities of its own, blind to VLANs, is IEEE 802.1Q-2022 §13 (from memory; no MSTP program was measured).
 */
import { describe, expect, it } from 'vitest';
import { modelOf } from '../tools/network-plans.js';
import { host, hostPorts } from '../tools/tree-plans.js';
import { RULES } from '../../rules/index.js';
import { lintInputs } from '../../src/lint/lint.js';
import { linkLabel } from '../../src/model/vlans/index.js';

const BOTH = ['v10', 'v20'];
const ACCESS = ['x', 'y', 'z'];
const VLANS = BOTH.map((name, index) => ({ name, id: 10 + 10 * index, igmp: { snooping: false } }));

type Tree = object | string;

function mstp(priority: number | undefined, ofTwo: number | undefined, vlans: readonly string[] = ['v20']): Tree {
  return { mode: 'mstp', priority, instances: [{ number: 2, vlans, priority: ofTwo }] };
}

function cores(trees: { readonly r: Tree; readonly s: Tree; readonly access: Tree; readonly z?: Tree }): object {
  return {
    rig: 'Heron',
    vlans: VLANS,
    switches: [
      { name: 'r', spanningTree: trees.r, ports: [{ name: '1-4', trunk: BOTH }] },
      { name: 's', spanningTree: trees.s, ports: [{ name: '1-4', trunk: BOTH }] },
      ...ACCESS.map((name) => ({
        name,
        spanningTree: name === 'z' ? (trees.z ?? trees.access) : trees.access,
        ports: [{ name: '1-2', trunk: BOTH }, ...hostPorts(name === 'x' ? 'tx' : `rx-${name}`, BOTH)],
      })),
    ],
    links: [
      { name: 'rs', ends: ['r/4', 's/4'], rate: '100G' },
      ...ACCESS.flatMap((name, index) => [
        { name: `${name}r`, ends: [`${name}/1`, `r/${index + 1}`], rate: '25G' },
        { name: `${name}s`, ends: [`${name}/2`, `s/${index + 1}`], rate: '25G' },
      ]),
    ],
    devices: [host('tx', 'x', BOTH), host('rx-y', 'y', BOTH, 'tx'), host('rx-z', 'z', BOTH, 'tx')],
  };
}

/** Loaded links, and what each VLAN's tree is not stated by. */
function seen(file: object): object {
  const { load, network } = modelOf(file);
  return {
    busy: [...load.links]
      .filter(([, { there, back }]) => there + back > 0)
      .map(([link]) => linkLabel(link))
      .sort(),
    doubts: Object.fromEntries(
      network.forwardings.map(({ segment, parts }) => [
        segment.domain.vlans.map(({ name }) => name).join('+'),
        parts.flatMap(({ layout }) => layout.doubts),
      ]),
    ),
  };
}

/** Nobody snoops: streams go to the other core as well. */
const ONE_TREE = ['rs', 'xr', 'yr', 'zr'];

describe('two cores and access switches on both (V13)', () => {
  it('use both uplinks where two instances have different roots', () => {
    const file = cores({ r: mstp(4096, 8192), s: mstp(8192, 4096), access: mstp(undefined, undefined) });
    expect(seen(file)).toEqual({
      busy: ['rs', 'xr', 'xs', 'yr', 'ys', 'zr', 'zs'],
      doubts: { v10: [], v20: [] },
    });
  });

  it('use one where both instances have the same root, or all VLANs are stated to be in instance 0', () => {
    const same = cores({ r: mstp(4096, 4096), s: mstp(8192, 8192), access: mstp(undefined, undefined) });
    expect(seen(same)).toEqual({ busy: ONE_TREE, doubts: { v10: [], v20: [] } });
    const only = (priority?: number): Tree => ({ mode: 'mstp', priority, instances: [] });
    const none = cores({ r: only(4096), s: only(8192), access: only() });
    expect(seen(none)).toEqual({ busy: ONE_TREE, doubts: { v10: [], v20: [] } });
  });

  it.each<readonly [string, Tree]>([
    ['has other VLANs in it', mstp(undefined, undefined, ['v10'])],
    ['gives it another number', { mode: 'mstp', instances: [{ vlans: ['v20'] }] }],
    ['states no instances', 'mstp'],
    ['names a VLAN in two', { mode: 'mstp', instances: [{ vlans: ['v20'] }, { vlans: ['v20'] }] }],
    ['runs another protocol', 'rstp'],
  ])('are judged as one tree, which is assumed, where one switch %s', (_, z) => {
    const file = cores({ r: mstp(4096, 8192), s: mstp(8192, 4096), access: mstp(undefined, undefined), z });
    expect(seen(file)).toEqual({ busy: ONE_TREE, doubts: { v10: ['instances'], v20: ['instances'] } });
  });

  it('hang on an address in the instance whose priorities nobody states', () => {
    const file = cores({
      r: mstp(4096, undefined),
      s: mstp(8192, undefined),
      access: mstp(undefined, undefined),
    });
    expect(seen(file)).toMatchObject({ doubts: { v10: [], v20: ['address'] } });
  });
});

it('goes by the first VLAN where VLANs of two instances are joined, which is assumed', () => {
  const file = cores({ r: mstp(4096, 8192), s: mstp(8192, 4096), access: mstp(undefined, undefined) });
  const text = JSON.stringify(file).replace(
    '{"name":"rs","ends":["r/4","s/4"],"rate":"100G"}',
    '$&,{"name":"joint","ends":["x/8","y/8"],"rate":"1G"}',
  );
  const joined = JSON.parse(text) as { switches: { name: string; ports: object[] }[] };
  for (const { name, ports } of joined.switches) {
    if (name === 'x') ports.push({ name: '8', access: 'v10' });
    if (name === 'y') ports.push({ name: '8', access: 'v20' });
  }
  expect(seen(joined)).toMatchObject({ doubts: { 'v10+v20': ['joinedInstances'] } });
});

describe('a VLAN that is not on every link of a ring', () => {
  const triangle = (b: number, c: number): object => ({
    rig: 'Heron',
    vlans: VLANS,
    switches: [
      {
        name: 'a',
        spanningTree: mstp(32768, 4096),
        ports: [{ name: '1', trunk: BOTH }, { name: '2', trunk: ['v10'] }, ...hostPorts('tx', BOTH)],
      },
      { name: 'b', spanningTree: mstp(4096, b), ports: [{ name: '1-2', trunk: BOTH }, ...hostPorts('rx-b', BOTH)] },
      {
        name: 'c',
        spanningTree: mstp(8192, c),
        ports: [{ name: '1', trunk: BOTH }, { name: '2', trunk: ['v10'] }, ...hostPorts('rx-c', BOTH)],
      },
    ],
    links: [
      { name: 'ab', ends: ['a/1', 'b/1'], rate: '10G' },
      { name: 'bc', ends: ['b/2', 'c/1'], rate: '10G' },
      { name: 'ac', ends: ['a/2', 'c/2'], rate: '10G' },
    ],
    devices: [host('tx', 'a', BOTH), host('rx-b', 'b', BOTH, 'tx'), host('rx-c', 'c', BOTH, 'tx')],
  });
  const blocked = (file: object): readonly string[] => {
    const { findings } = lintInputs([{ name: 'plan.json', text: JSON.stringify(file) }], RULES, {
      today: '2026-06-01',
    });
    return findings
      .filter(({ rule }) => rule === 'vlans/blocked-way')
      .map(({ severity, subject }) => `${severity} ${subject}`);
  };

  it('is cut by the tree of its own instance: an error, as the plan states it', () => {
    const { network } = modelOf(triangle(8192, 12288));
    const closed = network.forwardings.map(({ segment, parts }) => [
      segment.domain.vlans.map(({ name }) => name).join('+'),
      ['ab', 'bc', 'ac'].filter((name) =>
        parts.some(({ bundles, layout }) =>
          bundles.flat().some((link) => link.name === name && !layout.forwards(link)),
        ),
      ),
    ]);
    // Root b for v10: a-c waits, at a. Root a for v20: b-c waits, at c, and a-c does not carry v20.
    expect(Object.fromEntries(closed)).toEqual({ v10: ['ac'], v20: ['bc'] });
    expect(blocked(triangle(8192, 12288))).toEqual(['error VLAN v20']);
  });
});
