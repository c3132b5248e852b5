/** What a finding does to receivers: told by verdicts, by entities, and said where nobody followed it. */
import { describe, expect, it } from 'vitest';
import { RULES } from '../../rules/index.js';
import { lintInputs } from '../../src/lint/lint.js';
import { byEffect } from '../../src/lint/rank.js';
import type { Finding } from '../../src/lint/finding.js';
import { clause, defineRule, mark } from '../../src/doors/rule.js';
import type { Rule } from '../../src/lint/rule.js';
import { read, ruleFolders } from '../rules/load.js';

function findingsIn(text: string, rules: readonly Rule[] = RULES): readonly Finding[] {
  const { findings, problems, crashed } = lintInputs([{ name: 'plan.yaml', text }], rules, { today: '2026-06-01' });
  expect([problems, crashed]).toEqual([[], []]);
  return findings.toSorted(byEffect);
}

const labels = (list: readonly { readonly label: string }[] | undefined) => list?.map(({ label }) => label);

/** A receiver whose first leg joins the wrong group; `second` is what the plan says of its second one. */
const plan = (second: string): string => `
rig: Heron
networks: [{name: red, role: media, leg: 1}, {name: blue, role: media, leg: 2}]
vlans:
  - {name: red-video, id: 110, network: red, igmp: {version: 3, snooping: true, querier: [{on: red-core}]}}
  - {name: blue-video, id: 210, network: blue, igmp: {version: 3, snooping: true, querier: [{on: blue-core}]}}
switches:
  - {name: red-core, ports: [{name: 1-9, access: red-video, rate: 25G}]}
  - {name: blue-core, ports: [{name: 1-9, access: blue-video, rate: 25G}]}
formats: [{name: hd, essence: video, coding: h264, rate: 20M}]
devices:
  - name: cam-1
    interfaces:
      - {name: red, vlan: red-video, port: red-core/1}
      - {name: blue, vlan: blue-video${second}}
    senders:
      - {name: video, format: hd, legs: [{interface: red, group: 239.10.1.1}, {interface: blue, group: 239.20.1.1}]}
  - name: wall
    interfaces:
      - {name: red, vlan: red-video, port: red-core/2}
      - {name: blue, vlan: blue-video, port: blue-core/2}
    receivers:
      - {name: in, takes: cam-1/video, legs: [{interface: red, group: 239.10.1.9}, {interface: blue}]}
`;

describe('the effect of a finding', () => {
  it('is a leg less where another leg arrives', () => {
    const [first] = findingsIn(plan(', port: blue-core/1'));
    expect([first?.rule, first?.effect.kind]).toEqual(['receivers/group-differs', 'weakened']);
    expect(labels(first?.effect.weakened)).toEqual(['wall/in']);
    expect(first?.effect.dark).toEqual([]);
  });

  it('is in doubt where nobody can tell of the other leg', () => {
    const [first] = findingsIn(plan(''));
    expect([first?.rule, first?.effect.kind]).toEqual(['receivers/group-differs', 'doubtful']);
    expect(labels(first?.effect.doubtful)).toEqual(['wall/in']);
  });

  it('is told of a second cause for what is dark already', () => {
    const [folder] = ruleFolders('groups').filter(({ id }) => id === 'groups/not-bound');
    if (folder === undefined) throw new Error('no such rule');
    const findings = findingsIn(read(folder, 'bad.yaml'));
    expect(findings.map(({ effect }) => effect.kind)).toEqual(['dark', 'behind']);
    const [first, second] = findings;
    for (const label of labels(second?.effect.behind) ?? []) expect(labels(first?.effect.dark)).toContain(label);
    expect(second?.effect.behind.length).toBeGreaterThan(0);
  });

  it('is not followed where a rule does not say, and never passes for harmless', () => {
    const own = (harm?: Rule['harm']): Rule =>
      defineRule<{ readonly origin: string }>({
        id: 'conventions/label',
        summary: 'A device without a label',
        severity: 'error',
        sources: [clause('conventions book', '1')],
        needs: [],
        ...(harm === undefined ? {} : { harm }),
        *check({ plan: { devices } }) {
          for (const one of devices.slice(0, 1))
            yield {
              subject: one.name,
              facts: { origin: 'a key of this name is no entity' },
              at: mark(one, one.name, 'name'),
              touch: { kind: 'device', name: one.name },
            };
        },
        words: () => ({ what: 'no label', onAir: 'nothing', fix: 'write one' }),
      });
    const kindOf = (harm?: Rule['harm']) =>
      findingsIn(plan(''), [own(harm)]).map(({ effect, brief, boxes }) => [effect.kind, brief.fault, boxes]);
    expect(kindOf()).toEqual([['unknown', 'A device without a label', ['cam-1']]]);
    expect(kindOf('paper')[0]?.[0]).toBe('paper');
    expect(kindOf({ warning: 'later' })[0]?.[0]).toBe('unknown');
    expect(kindOf({ error: 'spoils' })[0]?.[0]).toBe('spoiled');
    const [unknown, paper] = [own(), own('paper')].map((rule) => findingsIn(plan(''), [rule])[0]);
    if (unknown === undefined || paper === undefined) throw new Error('nothing found');
    expect(byEffect({ ...unknown, severity: 'note' }, paper)).toBeLessThan(0);
  });

  it('is not followed at all where a rule stopped', () => {
    const stops: Rule = {
      ...{ id: 'conventions/stops', summary: 'Stops', severity: 'note', sources: [], needs: [] },
      check: () => {
        throw new Error('on purpose');
      },
      words: () => ({ what: '', onAir: '', fix: '' }),
    };
    const { findings, receivers } = lintInputs(
      [{ name: 'plan.yaml', text: plan(', port: blue-core/1') }],
      [...RULES, stops],
      { today: '2026-06-01' },
    );
    expect(receivers).toBeUndefined();
    expect(findings.map(({ rule, effect }) => [rule, effect.kind, effect.dark])).toContainEqual([
      'receivers/group-differs',
      'unknown',
      [],
    ]);
  });
});
