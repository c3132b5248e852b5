/** Nothing is delivered where a loop runs no spanning tree: measured on Open vSwitch, one frame goes round without end. */
import { describe, expect, it } from 'vitest';
import { RULES } from '../../rules/index.js';
import { lintInputs } from '../../src/lint/lint.js';

/** Three switches in a ring; the microphone on one, the desk on the next. */
function verdictsWith(spanningTree: readonly string[]): ReturnType<typeof lintInputs> {
  const names = ['core', 'start', 'finish'];
  const plan = {
    rig: 'Heron',
    vlans: [
      {
        name: 'red',
        id: 110,
        igmp: { snooping: true, version: 3, unregistered: 'drop', querier: [{ on: 'core', address: '10.20.0.2' }] },
      },
    ],
    switches: names.map((name, index) => ({
      name,
      spanningTree: spanningTree[index],
      ports: [
        { name: '1-8', access: 'red', rate: '10G' },
        { name: '49-50', trunk: ['red'], rate: '100G' },
      ],
    })),
    links: names.map((name, index) => ({ ends: [`${name}/49`, `${names[(index + 1) % 3] ?? ''}/50`] })),
    formats: [
      { name: 'pair', coding: 'st2110-30', channels: 2, sampleRate: 48000, sampleBits: 24, packetTime: '1 ms' },
    ],
    devices: [
      {
        name: 'mic',
        interfaces: [{ name: 'a', vlan: 'red', port: 'start/1' }],
        senders: [{ name: 's', format: 'pair', legs: [{ interface: 'a', group: '239.20.1.1', port: 5004 }] }],
      },
      {
        name: 'desk',
        interfaces: [{ name: 'a', vlan: 'red', port: 'finish/1' }],
        receivers: [{ name: 'in', takes: 'mic/s', legs: [{ interface: 'a' }] }],
      },
    ],
  };
  return lintInputs([{ name: 'plan.json', text: JSON.stringify(plan) }], RULES, { today: '2026-06-01' });
}

describe('a ring', () => {
  it('delivers nothing where none of its switches runs a tree, and says by which finding', () => {
    const { receivers } = verdictsWith(['none', 'none', 'none']);
    expect(receivers?.delivered).toBe(0);
    expect(receivers?.notDelivered.map(({ denial, finding }) => [denial, finding?.rule])).toEqual([
      ['storm', 'links/loop-without-tree'],
    ]);
  });

  it('delivers where all run one', () => {
    expect(verdictsWith(['rstp', 'rstp', 'rstp']).receivers?.delivered).toBe(1);
  });

  it('delivers where only one is not said to pass on the frames of the others, as a warning says', () => {
    const { receivers, findings } = verdictsWith(['rstp', 'rstp', 'none']);
    expect(receivers?.delivered).toBe(1);
    expect(findings.map(({ rule, severity }) => [rule, severity])).toEqual([['links/loop-without-tree', 'warning']]);
  });
});
