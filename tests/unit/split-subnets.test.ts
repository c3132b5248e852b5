/** A VLAN that a link forgets, beside other faults of the same link: each is found. */
import { describe, expect, it } from 'vitest';
import { RULES } from '../../rules/index.js';
import { lintInputs } from '../../src/lint/lint.js';

/** Trunks at both ends; hosts of control on both switches. */
function found(near: readonly string[], far: readonly string[]): readonly string[] {
  const text = JSON.stringify({
    rig: 'Heron',
    networks: [{ name: 'control', role: 'control' }],
    vlans: [
      { name: 'control', id: 100, network: 'control', subnet: '192.168.10.0/24' },
      { name: 'lights', id: 120, network: 'control' },
      { name: 'other', id: 130, network: 'control' },
    ],
    switches: ['ctl-core', 'ctl-start'].map((name, index) => ({
      name,
      ports: [
        { name: '1-2', access: 'control' },
        { name: '3-4', access: 'lights' },
        { name: '49', trunk: index === 0 ? near : far },
      ],
    })),
    links: [{ name: 'C01', ends: ['ctl-core/49', 'ctl-start/49'] }],
    devices: ['ctl-core', 'ctl-start'].map((name, index) => ({
      name: `box-${String(index)}`,
      interfaces: [
        { name: 'control', vlan: 'control', port: `${name}/1`, address: `192.168.10.${String(index + 11)}/24` },
        { name: 'lights', vlan: 'lights', port: `${name}/3` },
      ],
    })),
  });
  const { findings, problems } = lintInputs([{ name: 'plan.json', text }], RULES, { today: '2026-06-01' });
  expect(problems).toEqual([]);
  return findings
    .map(({ rule }) => rule)
    .filter((rule) => rule === 'vlans/split-subnet' || rule === 'links/vlans-differ')
    .sort();
}

describe('a link without the VLAN', () => {
  it.each<[string, readonly string[], readonly string[], readonly string[]]>([
    ['carries it', ['other', 'control'], ['other', 'control'], []],
    ['forgets it', ['other'], ['other'], ['vlans/split-subnet']],
    ['has it at one end', ['other', 'control'], ['other'], ['links/vlans-differ']],
    ['disagrees about another one too', ['other', 'lights'], ['other'], ['links/vlans-differ', 'vlans/split-subnet']],
  ])('%s', (_, near, far, expected) => {
    expect(found(near, far)).toEqual(expected);
  });
});
