/** What a name that leads nowhere was wanted for, whatever the owners are called. */
import { describe, expect, it } from 'vitest';
import unknownReference from '../../rules/plan/unknown-reference/rule.js';
import type { Facts } from '../../rules/plan/unknown-reference/words.js';
import { lintInputs } from '../../src/lint/lint.js';
import { wantedOf } from '../../src/model/written/lost-names.js';

describe('what is wanted', () => {
  it.each([
    ['VLAN', 'VLAN', undefined],
    ['device kind', 'device kind', undefined],
    ['switch or device', 'switch or device', undefined],
    ['port of switch red-start', 'port', 'red-start'],
    ['port of switch switch of red', 'port', 'switch of red'],
    ['sender of switch 1', 'sender', 'switch 1'],
    ['interface of box of tricks', 'interface', 'box of tricks'],
  ])('%s', (wanted, thing, owner) => {
    expect(wantedOf({ wanted })).toEqual({ thing, owner });
  });
});

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
    const last = findings.at(-1)?.facts as Facts;
    expect(last).toMatchObject({ thing: 'sender', owner: 'link of box and box', text: 'lite and sound' });
    expect(last.meant).toEqual(['light and sound']);
  });
});
