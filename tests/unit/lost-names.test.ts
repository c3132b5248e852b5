/** Names that lead nowhere are told from what refers to them, whatever the owners are called. */
import { describe, expect, it } from 'vitest';
import unknownReference from '../../rules/plan/unknown-reference/rule.js';
import type { Facts } from '../../rules/plan/unknown-reference/words.js';
import { lintInputs } from '../../src/lint/lint.js';
import { plainFacts } from '../../src/words/plain-facts.js';

describe('who is touched', () => {
  const text = `
vlans: [{name: red}]
switches: [{name: start, ports: [{name: 1, access: rde}]}]
devices:
  - {name: switch start, interfaces: [{name: a, vlan: bleu}]}
  - name: link of box and box
    senders: [{name: light and sound, legs: [{group: 239.1.1.1}]}]
    receivers: [{name: in, takes: link of box and box/lite and sound}]
`;
  const { findings } = lintInputs([{ name: 'plan.yaml', text }], [unknownReference], { today: '2026-06-01' });

  it('is what refers, not what its name looks like', () => {
    expect(findings.map(({ touch }) => touch)).toEqual([
      { kind: 'switch', name: 'start' },
      { kind: 'device', name: 'switch start' },
      { kind: 'device', name: 'link of box and box' },
    ]);
  });

  it('and what may be meant keeps its conjunctions', () => {
    expect(plainFacts(findings.at(-1)?.facts as Facts)).toEqual({
      wanted: { kind: 'sender', of: 'link of box and box' },
      names: ['lite and sound'],
      by: [{ kind: 'receiver', entity: 'link of box and box/in' }],
      meant: ['light and sound'],
    });
  });
});

describe('many names that lead nowhere', () => {
  const subjects = (count: number): readonly string[] => {
    const devices = Array.from({ length: count }, (_, index) => ({
      name: `rx-${index}`,
      receivers: [{ name: 'in', takes: `elsewhere-${index}/out` }],
    }));
    const near = { name: 'near', receivers: [{ name: 'in', takes: 'rx-00/in' }] };
    const text = JSON.stringify({ rig: 'Heron', devices: [...devices, near] });
    return lintInputs([{ name: 'plan.json', text }], [unknownReference], { today: '2026-06-01' }).findings.map(
      ({ subject, others }) => `${subject}, ${others.length + 1}`,
    );
  };

  it('are one missing list past 20 of a sort, and a slip beside them stays a finding', () => {
    expect(subjects(20)).toHaveLength(21);
    expect(subjects(21)).toEqual(['devices not written down, 21', 'device rx-00, 1']);
  });
});
