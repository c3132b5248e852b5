/** Model parts that the rules on sources, receivers and streams share. */
import { describe, expect, it } from 'vitest';
import { loadPlan } from '../../src/plan/load.js';
import { createModel } from '../../src/model/model.js';
import { formatDifferences, packetTimesDiffer } from '../../src/model/streams/format-differences.js';
import { imageOf, preimageOf } from '../../src/model/groups/leg-map.js';
import { formatAddress, parseAddress, type Address } from '../../src/values/address.js';
import type { Plan } from '../../src/plan/types.js';

function planOf(raw: object): Plan {
  const { plan, problems } = loadPlan([{ name: 'rig.json', text: JSON.stringify(raw) }]);
  expect(problems).toEqual([]);
  return plan;
}

function address(text: string): Address {
  const value = parseAddress(text);
  if (value === undefined) throw new Error(`not an address: ${text}`);
  return value;
}

describe("the conventions' map of legs", () => {
  const plan = planOf({
    rig: 'Heron',
    conventions: {
      legMap: {
        sources: [
          { first: '10.10.0.0/16', second: '10.11.0.0/16' },
          { first: '10.10.8.0/24', second: '10.12.8.0/24' },
          { first: 'fd00:10::/64', second: 'fd00:11::/64' },
        ],
      },
    },
  });
  const map = plan.rigs[0]?.conventions.sourceMap ?? [];
  const show = (value: Address | undefined): string => (value === undefined ? 'none' : formatAddress(value));

  it.each([
    ['10.10.0.0', '10.11.0.0'],
    ['10.10.255.255', '10.11.255.255'],
    ['10.10.8.9', '10.12.8.9'],
    ['fd00:10::2a', 'fd00:11::2a'],
  ])('%s beside %s, both ways', (first, second) => {
    expect(show(imageOf(address(first), map))).toBe(second);
    expect(show(preimageOf(address(second), map))).toBe(first);
  });

  it.each(['10.9.255.255', '10.11.0.0', 'fd00:12::1'])('%s is outside', (text) => {
    expect(imageOf(address(text), map)).toBeUndefined();
  });
});

describe('differences of formats', () => {
  const formats = planOf({
    formats: [
      { name: 'a', coding: 'st2110-20', width: 1920, height: 1080, frameRate: '60000/1001', depth: 10 },
      { name: 'b', coding: 'st2110-20', width: 1920, height: 1080, frameRate: 59.94 },
      { name: 'c', coding: 'st2110-20', width: 1280, height: 720, frameRate: 60, depth: '10' },
      { name: 'd', coding: 'st2110-30', channels: 2 },
      { name: 'e', coding: 'aes67', channels: 2 },
      { name: 'f', essence: 'audio', channels: 8 },
      { name: 'g', coding: 'st2110-31', channels: 8 },
    ],
  }).formats;
  const between = (first: string, second: string): readonly string[] => {
    const [a, b] = [first, second].map((name) => formats.find((one) => one.name === name));
    if (a === undefined || b === undefined) throw new Error('no such format');
    return formatDifferences(a, b).map(({ member }) => member);
  };

  it.each([
    ['a', 'b', []], // ST 2110-20 §7.2: 59.94 stands for 60000/1001
    ['a', 'c', ['width', 'height', 'frameRate']],
    ['a', 'd', ['essence']],
    ['d', 'e', []], // ST 2110-30 §6.1: as AES67
    ['d', 'f', ['channels']],
    ['f', 'g', []],
    ['d', 'g', ['coding']],
  ])('%s and %s', (first, second, members) => {
    expect(between(first, second)).toEqual(members);
    expect(between(second, first)).toEqual(members);
  });

  it('takes packet times as SDP rounds them', () => {
    // ST 2110-31: 0.12 for 125 µs, 0.08 for 83.33 µs, 0.14 for 136.05 µs, 1.09 for 1088.44 µs.
    for (const [exact, written] of [
      [125_000, 120_000],
      [83_333, 80_000],
      [136_054, 140_000],
      [1_088_435, 1_090_000],
    ] as const) {
      expect(packetTimesDiffer(exact, written)).toBe(false);
    }
    for (const [one, other] of [
      [125_000, 83_333],
      [125_000, 136_054],
      [1_000_000, 1_088_435],
      [250_000, 333_333],
    ] as const) {
      expect(packetTimesDiffer(one, other)).toBe(true);
    }
    expect(packetTimesDiffer(undefined, 125_000)).toBe(false);
  });
});

describe('what receivers hear', () => {
  const plan = planOf({
    vlans: [{ name: 'red' }, { name: 'blue' }],
    streams: [
      { name: 'start', legs: [{ vlan: 'red', group: '232.1.1.1', source: '10.0.0.1' }] },
      { name: 'finish', legs: [{ vlan: 'red', group: '232.1.1.1', source: '10.0.0.2' }] },
      { name: 'umpire', legs: [{ vlan: 'red', group: '232.1.1.1' }] },
    ],
    devices: [
      {
        name: 'screen',
        interfaces: [
          { name: 'red', vlan: 'red' },
          { name: 'blue', vlan: 'blue' },
        ],
        receivers: [
          { name: 'any', legs: [{ interface: 'red', group: '232.1.1.1' }] },
          { name: 'one', legs: [{ interface: 'red', group: '232.1.1.1', source: '10.0.0.2' }] },
          { name: 'blue', legs: [{ interface: 'blue', group: '232.1.1.1' }] },
          { name: 'named', takes: 'start', legs: [{ interface: 'blue' }] },
        ],
      },
    ],
  });
  const { reception, groups } = createModel(plan);
  const heard = (name: string): readonly string[] =>
    plan.receiverLegs
      .filter(({ receiver }) => receiver.name === name)
      .flatMap((leg) => reception.heard(leg).map(({ sender }) => sender.name));

  it('goes by the group where the receiver stands, and by the source it states', () => {
    expect(heard('any')).toEqual(['start', 'finish', 'umpire']);
    expect(heard('one')).toEqual(['finish', 'umpire']); // umpire's source is not known: it may be the one
    expect(heard('blue')).toEqual([]);
  });

  it('goes by the sender a receiver names, wherever it stands', () => {
    expect(heard('named')).toEqual(['start']);
  });

  it('knows who joins a group', () => {
    const [use] = groups.shared;
    expect(use && reception.joiners(use).map(({ receiver }) => receiver.name)).toEqual(['any', 'one']);
  });
});
