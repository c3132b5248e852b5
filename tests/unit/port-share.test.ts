/** What floods fills ports: one rule says so, by the threshold of the rig concerned, and of the segment that floods. */
import { describe, expect, it } from 'vitest';
import { RULES } from '../../rules/index.js';
import { lint, load } from '../../src/engine.js';
import { NO_PROFILE, type Profile } from '../../src/lint/profile.js';
import type { Finding } from '../../src/lint/finding.js';

const FORMAT = {
  ...{ name: '1080p50', essence: 'video', coding: 'st2110-20', width: 1920, height: 1080, frameRate: 50 },
  ...{ scan: 'progressive', sampling: 'YCbCr-4:2:2', depth: 10 },
};
const CAMERA = { format: '1080p50', legs: [{ interface: 'red', group: '239.192.1.1' }] };

function judge(plans: readonly object[], profile: Profile = NO_PROFILE): readonly Finding[] {
  const inputs = plans.map((plan, index) => ({ name: `part-${index}.json`, text: JSON.stringify(plan) }));
  const { findings, problems, crashed } = lint(load({ inputs, problems: [] }), { today: '2026-06-01', profile });
  expect([problems, crashed]).toEqual([[], []]);
  return findings;
}

/** A camera of 2.2 Gbit/s floods a panel whose port carries 2.4 Gbit/s, 93 % of it. */
function flooded(igmp: object, { taken = true, percent }: { taken?: boolean; percent?: number | undefined }): object {
  return {
    rig: 'Heron',
    ...(percent === undefined ? {} : { conventions: { thresholds: { 'capacity/port-overload.percent': percent } } }),
    vlans: [{ name: 'red-video', id: 10, igmp }],
    switches: [
      {
        ...{ name: 'leaf', noQuerier: 'flood', snoopingKey: 'group' },
        ports: [
          { name: '1-8', rate: '10G', access: 'red-video' },
          { name: '9', rate: '2.4G', access: 'red-video' },
        ],
      },
    ],
    formats: [FORMAT],
    devices: [
      {
        ...{ name: 'cam', interfaces: [{ name: 'red', vlan: 'red-video', port: 'leaf/1' }] },
        senders: [{ name: 'video', ...CAMERA }],
      },
      {
        ...{ name: 'mon', interfaces: [{ name: 'red', vlan: 'red-video', port: 'leaf/2' }] },
        receivers: [{ name: 'in', takes: taken ? 'cam/video' : 'cam/other' }],
      },
      { name: 'panel', interfaces: [{ name: 'red', vlan: 'red-video', port: 'leaf/9' }] },
    ],
  };
}

const QUERIER = [{ on: 'leaf', address: '10.0.0.1' }];
const CAUSES: readonly (readonly [string, object, boolean])[] = [
  ['igmp/snooping-off', { snooping: false }, true],
  ['igmp/no-querier', { snooping: true }, true],
  ['igmp/unregistered-flood', { snooping: true, unregistered: 'flood', querier: QUERIER }, false],
];

describe.each(CAUSES)('%s and capacity/port-overload', (cause, igmp, taken) => {
  const speaking = (percent: number | undefined, others: readonly object[] = [], profile?: Profile) =>
    judge([flooded(igmp, { taken, percent }), ...others], profile)
      .map(({ rule }) => rule)
      .filter((rule) => rule === cause || rule === 'capacity/port-overload');

  it.each([
    [undefined, 'capacity/port-overload'],
    [50, 'capacity/port-overload'],
    [95, cause],
  ])('are one finding at %s %%', (percent, speaks) => {
    expect(speaking(percent)).toEqual([speaks]);
  });

  it('go by the profile before the conventions', () => {
    const at = (percent: number) => ({ ...NO_PROFILE, thresholds: { 'capacity/port-overload.percent': percent } });
    expect(speaking(95, [], at(90))).toEqual(['capacity/port-overload']);
    expect(speaking(50, [], at(95))).toEqual([cause]);
  });

  it('go by their own rig', () => {
    const dunlin = { rig: 'Dunlin', conventions: { thresholds: { 'capacity/port-overload.percent': 99 } } };
    expect(speaking(undefined, [dunlin])).toEqual(['capacity/port-overload']);
    expect(
      speaking(95, [{ ...dunlin, conventions: { thresholds: { 'capacity/port-overload.percent': 10 } } }]),
    ).toEqual([cause]);
  });

  it('do not both fall silent where one is turned off', () => {
    const severity = { 'capacity/port-overload': 'off' } as const;
    expect(speaking(undefined, [], { ...NO_PROFILE, severity })).toEqual([cause]);
  });
});

it('the threshold that is asked for elsewhere is declared there', () => {
  const portOverload = RULES.find(({ id }) => id === 'capacity/port-overload');
  expect(portOverload?.thresholds).toHaveProperty('percent');
});

describe('a port with interfaces in two VLANs', () => {
  const vlans = [
    { name: 'control', id: 20, igmp: { snooping: true, querier: QUERIER } },
    { name: 'red-video', id: 10, igmp: { snooping: false } },
  ];
  const plan = (order: readonly string[], also: readonly object[] = []): object => ({
    rig: 'Heron',
    vlans,
    switches: [
      {
        ...{ name: 'leaf', snoopingKey: 'group' },
        ports: [
          { name: '1-8', rate: '10G', access: 'red-video' },
          { name: '9', rate: '1G', trunk: ['control', 'red-video'] },
        ],
      },
    ],
    formats: [FORMAT],
    devices: [
      {
        ...{ name: 'cam', interfaces: [{ name: 'red', vlan: 'red-video', port: 'leaf/1' }] },
        senders: [{ name: 'video', ...CAMERA }],
      },
      {
        ...{ name: 'mon', interfaces: [{ name: 'red', vlan: 'red-video', port: 'leaf/2' }] },
        receivers: [{ name: 'in', takes: 'cam/video' }],
      },
      { name: 'panel', interfaces: order.map((vlan) => ({ name: vlan, vlan, port: 'leaf/9' })), receivers: also },
    ],
  });
  const overload = (one: object) => judge([one]).filter(({ rule }) => rule === 'capacity/port-overload');

  it.each([[['control', 'red-video']], [['red-video', 'control']]])('is filled by the one that floods: %s', (order) => {
    const [finding, ...rest] = overload(plan(order));
    expect(rest).toEqual([]);
    expect(finding).toMatchObject({
      subject: expect.stringContaining('red-video') as string,
      parties: ['panel red-video'],
      facts: { streams: 1 },
      touch: { kind: 'vlan', name: 'red-video' },
    });
    expect(finding?.subject).not.toContain('control');
  });

  it.each([[['control', 'red-video']], [['red-video', 'control']]])('names what any of them takes: %s', (order) => {
    const takes = { name: 'in', takes: 'cam/video', legs: [{ interface: 'red-video' }] };
    const [finding, ...rest] = overload(plan(order, [takes]));
    expect(rest).toEqual([]);
    expect(finding?.facts).toMatchObject({ form: 'gets', streams: [{ name: 'cam/video' }] });
    expect(finding?.others.map(({ label }) => label)).toContain('panel/in');
  });
});
