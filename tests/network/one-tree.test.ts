/**
 * One tree for all VLANs, in plans: what is delivered, what a loss changes, which links carry, and that each cure cures.
 * Topologies and outcomes measured on Open vSwitch 3.1 (RSTP) unless said otherwise.
 */
import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { modelOf } from '../tools/network-plans.js';
import { host, hostPorts } from '../tools/tree-plans.js';
import { RULES } from '../../rules/index.js';
import { lintInputs } from '../../src/lint/lint.js';
import type { createModel } from '../../src/model/model.js';
import { linkLabel } from '../../src/model/vlans/index.js';
import { DELIVERED, denialOf } from '../../src/model/verdicts/fates.js';

describe('a VLAN that is not on every link of a ring', () => {
  const both = ['v10', 'v20'];
  const triangle = (links: readonly string[]): object => ({
    rig: 'Heron',
    vlans: both.map((name, index) => ({ name, id: 10 + 10 * index, igmp: { snooping: false } })),
    switches: [
      {
        name: 'a',
        spanningTree: { mode: 'rstp', priority: 4096 },
        ports: [{ name: '1', trunk: both }, { name: '2', trunk: ['v10'] }, ...hostPorts('tx', both)],
      },
      {
        name: 'b',
        spanningTree: { mode: 'rstp', priority: 8192 },
        ports: [{ name: '1-2', trunk: both }, ...hostPorts('rx-b', both)],
      },
      {
        name: 'c',
        spanningTree: { mode: 'rstp', priority: 12288 },
        ports: [{ name: '1', trunk: both }, { name: '2', trunk: ['v10'] }, ...hostPorts('rx-c', both)],
      },
    ],
    links: [
      { name: 'ab', ends: ['a/1', 'b/1'], rate: '10G' },
      { name: 'bc', ends: ['b/2', 'c/1'], rate: '10G' },
      { name: 'ac', ends: ['a/2', 'c/2'], rate: '10G' },
    ].filter(({ name }) => links.includes(name)),
    devices: [host('tx', 'a', both), host('rx-b', 'b', both, 'tx'), host('rx-c', 'c', both, 'tx')],
  });
  const verdicts = (file: object): Readonly<Record<string, string>> => {
    const { plan, judge } = modelOf(file);
    return Object.fromEntries(
      plan.receiverLegs.map((taker) => {
        if (taker.takes === undefined) throw new Error('a receiver takes nothing');
        const fate = judge(taker.takes, taker);
        return [taker.receiver.label, fate === DELIVERED ? 'delivered' : (denialOf(fate) ?? 'not known')];
      }),
    );
  };

  it('is cut where the tree blocks one of its links, and is whole again once another link is lost', () => {
    expect(verdicts(triangle(['ab', 'bc', 'ac']))).toEqual({
      'rx-b/v10': 'delivered',
      'rx-b/v20': 'delivered',
      'rx-c/v10': 'delivered',
      'rx-c/v20': 'blocked link',
    });
    expect(verdicts(triangle(['ab', 'bc']))).toEqual({
      'rx-b/v10': 'delivered',
      'rx-b/v20': 'delivered',
      'rx-c/v10': 'delivered',
      'rx-c/v20': 'delivered',
    });
  });

  it('is an error that the finding explains to the receiver', () => {
    const { findings, receivers } = lintInputs(
      [{ name: 'plan.json', text: JSON.stringify(triangle(['ab', 'bc', 'ac'])) }],
      RULES,
      { today: '2026-06-01' },
    );
    expect(
      findings.filter(({ rule }) => rule === 'vlans/blocked-way').map(({ severity, subject }) => [severity, subject]),
    ).toEqual([['error', 'VLAN v20']]);
    expect(receivers?.notDelivered.map(({ denial, finding }) => [denial, finding?.rule])).toEqual([
      ['blocked link', 'vlans/blocked-way'],
    ]);
  });
});

describe('two cores and access switches on both (V13)', () => {
  it('leave every second uplink idle', () => {
    const access = ['x', 'y', 'z'];
    const file = {
      rig: 'Heron',
      vlans: [{ name: 'red', id: 10, igmp: { snooping: false } }],
      switches: [
        {
          name: 'r',
          spanningTree: { mode: 'rstp', priority: 4096 },
          ports: [{ name: '1-4', trunk: ['red'] }, ...hostPorts('tx', ['red'])],
        },
        { name: 's', spanningTree: { mode: 'rstp', priority: 8192 }, ports: [{ name: '1-4', trunk: ['red'] }] },
        ...access.map((name) => ({
          name,
          spanningTree: 'rstp',
          ports: [{ name: '1-2', trunk: ['red'] }, ...hostPorts(`rx-${name}`, ['red'])],
        })),
      ],
      links: [
        { name: 'rs', ends: ['r/4', 's/4'], rate: '100G' },
        ...access.flatMap((name, index) => [
          { name: `${name}r`, ends: [`${name}/1`, `r/${index + 1}`], rate: '25G' },
          { name: `${name}s`, ends: [`${name}/2`, `s/${index + 1}`], rate: '25G' },
        ]),
      ],
      devices: [host('tx', 'r', ['red']), ...access.map((name) => host(`rx-${name}`, name, ['red'], 'tx'))],
    };
    const { load } = modelOf(file);
    const busy = [...load.links].filter(([, { there, back }]) => there + back > 0).map(([link]) => linkLabel(link));
    expect(busy.sort()).toEqual(['rs', 'xr', 'yr', 'zr']);
  });
});

describe('links side by side', () => {
  it('carry on the one with the lower port at the switch nearer the root (V6b), and all together as an aggregate', () => {
    const file = (aggregate?: string): object => ({
      rig: 'Heron',
      vlans: [{ name: 'red', id: 10, igmp: { snooping: false } }],
      switches: [
        {
          name: 'a',
          spanningTree: { mode: 'rstp', priority: 4096 },
          ports: [{ name: '1-2', trunk: ['red'] }, ...hostPorts('tx', ['red'])],
        },
        { name: 'b', spanningTree: 'rstp', ports: [{ name: '1-2', trunk: ['red'] }, ...hostPorts('rx', ['red'])] },
      ],
      links: [
        { name: 'second', ends: ['a/2', 'b/1'], rate: '10G', aggregate },
        { name: 'first', ends: ['a/1', 'b/2'], rate: '10G', aggregate },
      ],
      devices: [host('tx', 'a', ['red']), host('rx', 'b', ['red'], 'tx')],
    });
    const busy = (model: ReturnType<typeof createModel>): readonly string[] =>
      [...model.load.links]
        .filter(([, { there, back }]) => there + back > 0)
        .map(([link]) => linkLabel(link))
        .sort();
    expect(busy(modelOf(file()))).toEqual(['first']);
    expect(busy(modelOf(file('both')))).toEqual(['first', 'second']);
  });
});

describe('what a finding advises', () => {
  const found = (text: string): readonly string[] =>
    lintInputs([{ name: 'plan.yaml', text }], RULES, { today: '2026-06-01' })
      .findings.filter(({ severity }) => severity !== 'note')
      .map(({ rule }) => rule);
  const bad = (path: string): string => readFileSync(new URL(`../../rules/${path}`, import.meta.url), 'utf8');

  it.each<readonly [string, string, string, (text: string) => string]>([
    ['vlans/blocked-way', 'bad', 'carry the VLAN on R03', (text) => withComms(text)],
    ['vlans/blocked-way', 'bad-assumed', 'carry the VLAN on R03', (text) => withComms(text)],
    ['vlans/blocked-way', 'bad-after-loss', 'carry the VLAN on R03', (text) => withComms(text)],
    [
      'links/loop-without-tree',
      'bad',
      'run a tree',
      (text) => text.replace('{mode: none, bpdus: drop}', 'rstp').replaceAll(': none', ': rstp'),
    ],
    [
      'links/loop-without-tree',
      'bad',
      'take one link of each loop out',
      (text) => text.replace(/.*D02.*\n/, '').replace(/.*H03.*\n/, ''),
    ],
    [
      'links/loop-without-tree',
      'bad-unsaid',
      'state that it passes BPDUs',
      (text) => text.replace('none', '{mode: none, bpdus: pass}'),
    ],
    [
      'links/loop-without-tree',
      'bad-unsaid',
      'make them an aggregate',
      (text) => text.replace(/(D0\d, ends: .*\])\}/g, '$1, aggregate: desk}'),
    ],
    [
      'links/side-by-side',
      'bad',
      'make them an aggregate',
      (text) => text.replace(/(R0\d, ends: .*\])\}/g, '$1, aggregate: start}'),
    ],
    ['links/cost-methods-differ', 'bad', 'set the long method', (text) => text.replace('short', 'long')],
    [
      'links/root-by-address',
      'bad',
      'set priorities',
      (text) => text.replace('00:03"', '00:03", priority: 4096').replace('00:02"', '00:02", priority: 8192'),
    ],
  ])('ends %s (%s): %s', (rule, example, _, mend) => {
    const text = bad(`${rule}/${example}.yaml`);
    expect(found(text)).toContain(rule);
    expect(mend(text)).not.toBe(text);
    expect(found(mend(text))).toEqual([]);
  });

  function withComms(text: string): string {
    return text.replaceAll('trunk: [red-video]', 'trunk: [red-video, comms]');
  }
});
