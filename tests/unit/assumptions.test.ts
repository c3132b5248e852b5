/** What the report says was assumed: each fact once, only where it mattered, nothing where the plan states it. */
import { describe, expect, it } from 'vitest';
import { lintInputs } from '../../src/lint/lint.js';
import { assumptionWords } from '../../src/report/lint/assumptions.js';
import noQuerier from '../../rules/igmp/no-querier/rule.js';
import gatewayUnheld from '../../rules/subnets/gateway-unheld/rule.js';

interface Switchable {
  readonly switches?: object;
  readonly igmp?: object;
  readonly count?: number;
  readonly groups?: readonly [string, string];
  readonly taken?: boolean;
  readonly ring?: boolean;
  readonly bond?: string;
}

const STATED = { noQuerier: 'prune', unregistered: 'drop', snoopingKey: 'group' };
const IGMP = {
  snooping: true,
  unregistered: 'drop',
  querier: [
    { on: 'leaf-1', address: '10.20.10.1' },
    { on: 'leaf-2', address: '10.20.10.2' },
  ],
};

/** Leaves in a row (or a ring) with a sender of two streams on the first and a receiver on the second. */
function assumed({
  switches = STATED,
  igmp = IGMP,
  count = 2,
  groups = ['239.192.1.1', '239.192.1.2'],
  taken = true,
  ring = false,
  bond,
}: Switchable): readonly string[] {
  const number = Array.from({ length: count }, (_, index) => index + 1);
  const links = number.slice(1).map((one) => ({ ends: [`leaf-${one - 1}/next`, `leaf-${one}/last`] }));
  const plan = {
    rig: 'Heron',
    vlans: [{ name: 'red-video', igmp }],
    switches: number.map((one) => ({
      name: `leaf-${one}`,
      ...switches,
      ports: [
        { name: '1-8', access: 'red-video' },
        { name: 'next', trunk: ['red-video'] },
        { name: 'last', trunk: ['red-video'] },
      ],
    })),
    links: ring ? [...links, { ends: [`leaf-${count}/next`, 'leaf-1/last'] }] : links,
    devices: [
      {
        name: 'cam',
        interfaces: [{ name: 'red', vlan: 'red-video', port: 'leaf-1/1', ...(bond === undefined ? {} : { bond }) }],
        senders: groups.map((group, index) => ({ name: `video-${index + 1}`, legs: [{ interface: 'red', group }] })),
      },
      {
        name: 'mon',
        interfaces: [{ name: 'red', vlan: 'red-video', port: 'leaf-2/1' }],
        receivers: groups
          .slice(taken ? 0 : 1)
          .map((_, index) => ({ name: `in-${index + 1}`, takes: `cam/video-${index + 1}` })),
      },
    ],
  };
  const result = lintInputs([{ name: 'plan.json', text: JSON.stringify(plan) }], [noQuerier], { today: '2026-06-01' });
  expect(result.problems).toEqual([]);
  expect(result.crashed).toEqual([]);
  return assumptionWords(result.assumptions);
}

describe('assumptions', () => {
  it('are none where the plan states the facts', () => {
    expect(assumed({})).toEqual([]);
  });

  it('are none where the missing facts decide nothing: two queriers, every stream taken, no equal multicast MACs', () => {
    expect(assumed({ switches: {}, igmp: { ...IGMP, unregistered: undefined } })).toEqual([]);
  });

  it('name snooping that is not stated', () => {
    expect(assumed({ igmp: { ...IGMP, snooping: undefined } })).toEqual([
      'VLAN red-video: IGMP snooping is on; state `igmp: {snooping: …}` there.',
    ]);
  });

  it('name what happens without a querier where there is none', () => {
    expect(assumed({ switches: { ...STATED, noQuerier: undefined }, igmp: { ...IGMP, querier: undefined } })).toEqual([
      'switches leaf-1 and leaf-2: groups are forgotten while no querier is heard; state `noQuerier`.',
    ]);
  });

  it('name what happens to streams nobody takes', () => {
    const silent = {
      switches: { ...STATED, unregistered: undefined },
      igmp: { ...IGMP, unregistered: undefined },
      taken: false,
    };
    expect(assumed(silent)).toEqual([
      'switches leaf-1 and leaf-2: groups nobody joined go to router ports only; state `unregistered`.',
    ]);
    expect(assumed({ ...silent, taken: true })).toEqual([]);
    expect(assumed({ ...silent, igmp: IGMP })).toEqual([]);
  });

  it('name the table key where two groups share a multicast MAC (the pair of RFC 4541 §4)', () => {
    const silent = { ...STATED, snoopingKey: undefined };
    expect(assumed({ switches: silent, groups: ['224.1.2.3', '239.129.2.3'] })).toEqual([
      'switches leaf-1 and leaf-2: streams are forwarded by group; state `snoopingKey`.',
    ]);
    expect(assumed({ switches: silent, groups: ['239.1.2.3', '239.129.2.4'] })).toEqual([]);
  });

  it('name the root of a loop, which no plan states', () => {
    expect(assumed({ count: 3, ring: true })).toEqual([
      "VLAN red-video: the links make a loop, and the spanning tree's root is taken to be leaf-1; state `spanningTree` of all its switches, state the rates of its links and state a `priority` of its switches, or their bridge addresses as `mac`.",
    ]);
    expect(assumed({ count: 3 })).toEqual([]);
  });

  it('are one line for sixteen equal switches', () => {
    const [line, ...rest] = assumed({
      count: 16,
      switches: { ...STATED, noQuerier: undefined },
      igmp: { ...IGMP, querier: undefined },
    });
    expect(rest).toEqual([]);
    expect(line).toBe(
      'switches leaf-1, leaf-2, leaf-3, leaf-4 and 12 more: groups are forgotten while no querier is heard; state `noQuerier`.',
    );
  });

  it('name whose streams are followed on one member of a bond', () => {
    expect(assumed({ bond: 'media' })).toEqual([
      'cam: a stream on a member of a bond is followed on the port of that member alone; its cable counts as the only one.',
    ]);
  });

  it('say that a gateway nobody has is a router outside the plan, unless the plan says who routes', () => {
    const lint = (more: object): readonly string[] => {
      const box = { name: 'uplink', interfaces: [{ name: 'control', vlan: 'control', address: '192.168.10.2/24' }] };
      const plan = {
        rig: 'Heron',
        vlans: [{ name: 'control', subnet: '192.168.10.0/24', gateway: '192.168.10.1' }],
        devices: [{ ...box, ...more }],
      };
      const text = JSON.stringify(plan);
      const result = lintInputs([{ name: 'plan.json', text }], [gatewayUnheld], { today: '2026-06-01' });
      return [...result.findings.map(({ rule }) => rule), ...assumptionWords(result.assumptions)];
    };
    expect(lint({})).toEqual([
      'VLAN control: the gateway belongs to a router outside the plan; write down who routes there, and its address.',
    ]);
    expect(lint({ routes: true })).toEqual(['subnets/gateway-unheld']);
    // It routes, but nobody says with which address.
    expect(lint({ routes: true, interfaces: [{ name: 'control', vlan: 'control' }] })).toHaveLength(1);
    const held = { name: 'control', vlan: 'control', address: '192.168.10.1/24' };
    expect(lint({ routes: true, interfaces: [held] })).toEqual([]);
  });

  it('are none where no rule ran', () => {
    const text = JSON.stringify({ vlans: [{ name: 'red-video' }] });
    expect(lintInputs([{ name: 'plan.json', text }], [], { today: '2026-06-01' }).assumptions).toEqual([]);
  });
});
