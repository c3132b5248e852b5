/** Cures of many alike findings take as long each, however many there are, and no two are given one address. */
import { describe, expect, it } from 'vitest';
import duplicateAddress from '../../rules/hosts/duplicate-address/rule.js';
import { findingCure } from '../../src/lint/finding.js';
import { lintInputs } from '../../src/lint/lint.js';
import type { Input } from '../../src/read/index.js';
import { growth, LINEAR } from '../tools/growth.js';

/** As many pairs of cameras, each pair on one address, each with a stream and a receiver that names its source. */
function clashes(size: number, twins: boolean): readonly Input[] {
  const devices = Array.from({ length: size }, (_, pair) => ['a', 'b'].map((side) => camera(pair, side, twins))).flat();
  const plan = {
    rig: 'Heron',
    conventions: { legMap: { sources: [{ first: '10.16.0.0/14', second: '10.32.0.0/14' }] } },
    networks: [
      { name: 'red', role: 'media', leg: 1 },
      { name: 'blue', role: 'media', leg: 2 },
    ],
    vlans: [
      { name: 'red', id: 10, network: 'red', subnet: '10.16.0.0/14', gateway: '10.16.0.1' },
      { name: 'blue', id: 20, network: 'blue', subnet: '10.32.0.0/14', gateway: '10.32.0.1' },
    ],
    devices,
  };
  return [{ name: 'plan.json', text: JSON.stringify(plan) }];
}

function camera(pair: number, side: string, twins: boolean): unknown {
  const at = (first: string): string => `${first}.${((pair + 512) >> 8) & 255}.${pair & 255}`;
  return {
    name: `cam-${pair}${side}`,
    interfaces: [
      { name: 'red', vlan: 'red', address: `${at('10.16')}/14` },
      ...(twins ? [{ name: 'blue', vlan: 'blue', address: `${at('10.32')}/14` }] : []),
    ],
    senders: [{ name: 'video', legs: [{ interface: 'red', group: at('239.1'), port: 5004 }] }],
    receivers: [{ name: 'return', takes: `cam-${pair}${side}/video`, interfaces: ['red'] }],
  };
}

describe.each([
  ['with one address each', false],
  ['with two that the conventions derive from each other', true],
])('cures of hosts %s', (_, twins) => {
  function cured(inputs: readonly Input[]) {
    const { findings, problems } = lintInputs(inputs, [duplicateAddress], { today: '2026-06-01' });
    expect(problems).toEqual([]);
    return findings.map(findingCure);
  }

  it('take as long each', () => {
    const perDoubling = growth(3000, (size) => clashes(size, twins), cured);
    expect(perDoubling).toBeLessThan(LINEAR);
  });

  it('give each address once', () => {
    const inputs = clashes(700, twins);
    const cures = cured(inputs);
    expect(cures.length).toBe(twins ? 1400 : 700);
    const given = new Map<string, Set<object>>();
    for (const cure of cures) {
      expect(cure.certainty).toBe('likely');
      if (cure.certainty === 'people') continue;
      for (const { key, value, container } of cure.edits) {
        if (key !== 'address' || typeof value !== 'string') continue;
        const holders = given.get(value);
        if (holders === undefined) given.set(value, new Set([container]));
        else holders.add(container);
      }
    }
    expect(given.size).toBe(twins ? 1400 : 700);
    expect([...given.values()].filter(({ size }) => size > 1)).toEqual([]);
  });
});
