/** Who refers to a name that leads nowhere: an entity of the plan, whatever it is called. */
import { describe, expect, it } from 'vitest';
import noPath from '../../rules/vlans/no-path/rule.js';
import { lintInputs } from '../../src/lint/lint.js';
import { loadPlan } from '../../src/plan/load.js';
import { plainFacts } from '../../src/words/plain-facts.js';
import { referrerLabel } from '../../src/words/referrers.js';

/** The trunks lack red between sender and receiver; `more` adds a device that is in a VLAN nobody wrote down. */
const twoParts = (more: string): string => `
vlans: [{name: red, id: 10}, {name: blue, id: 20}]
switches:
  - {name: core, ports: [{name: 1, access: red}, {name: 9, trunk: [blue]}]}
  - {name: leaf, ports: [{name: 1, access: red}, {name: 9, trunk: [blue]}]}
links: [{name: R1, ends: [core/9, leaf/9]}]
devices:
  - name: cam
    interfaces: [{name: a, vlan: red, port: leaf/1}]
    senders: [{name: video, legs: [{interface: a, group: 239.1.1.1}]}]
  - {name: wall, interfaces: [{name: a, vlan: red, port: core/1}], receivers: [{name: in, takes: cam/video}]}
${more}`;

describe('a reference that leads nowhere', () => {
  const subjects = (text: string): readonly string[] =>
    lintInputs([{ name: 'plan.yaml', text }], [noPath], { today: '2026-06-01' }).findings.map(({ subject }) => subject);

  it.each(['link one', 'switch one', 'desk'])('of a device called %s hides no path that is missing', (name) => {
    expect(subjects(twoParts(`  - {name: ${name}, interfaces: [{name: a, vlan: rde}]}`))).toEqual([
      'red between core and leaf',
    ]);
  });

  it.each([
    ['a switch', 'switches: [{name: desk, ports: [{name: 1, access: rde}]}]'],
    ['a link', 'links: [{ends: [core/8, leaf/8], vlans: [rde]}]'],
  ])('of %s leaves open which VLANs get where', (_, more) => {
    const result = lintInputs(
      [
        { name: 'plan.yaml', text: twoParts('') },
        { name: 'more.yaml', text: more },
      ],
      [noPath],
      { today: '2026-06-01' },
    );
    expect(result.problems).toEqual([]);
    expect(result.findings).toEqual([]);
  });
});

describe('who refers', () => {
  const { plan, problems } = loadPlan([
    {
      name: 'plan.yaml',
      text: `
networks: [{name: red}]
vlans: [{name: red-video, network: gone, igmp: {querier: [{on: gone, address: 10.0.0.1}]}}]
switches: [{name: core, ports: [{name: 1, access: gone}], addresses: [{vlan: gone, address: 10.0.0.2}], ptp: {masterOnly: [9]}}]
links:
  - {name: R1, ends: [core/1, gone/1], vlans: [gone]}
  - {ends: [gone/1, core/1]}
joins: [{vlans: [red-video, gone]}]
conventions: {groups: [{network: gone, ranges: [239.0.0.0/8]}]}
devices:
  - {name: cam, kind: gone, interfaces: [{name: a, vlan: gone, port: gone/1}], senders: [{name: video, format: gone}]}
  - {name: wall, receivers: [{name: in, takes: gone/video}]}
streams: [{name: tally, format: gone, legs: [{group: 239.1.1.2}]}]
timing:
  domains: [{number: 1, networks: [gone]}, {name: conventions, grandmasters: [gone]}, {grandmasters: [gone]}]
  lipSync: [{name: stage, at: gone, picture: [gone], sound: [gone]}]
  roundTrips: [{name: talk, there: [gone], back: [gone]}]
`,
    },
  ]);

  it('is an entity of the plan itself', () => {
    expect(problems).toEqual([]);
    const known = new Set<object>([
      ...plan.vlans,
      ...plan.switches,
      ...plan.links,
      ...plan.joins,
      ...plan.rigs.flatMap(({ conventions }) => conventions.groups),
      ...plan.devices,
      ...plan.senders,
      ...plan.receivers,
      ...plan.ptpDomains,
      ...plan.lipSyncs,
      ...plan.roundTrips,
    ]);
    expect(plan.unresolved.filter(({ by }) => !known.has(by.entity))).toEqual([]);
    expect(plan.unresolved.filter(({ text }) => text !== 'gone' && text !== '9')).toEqual([]);
  });

  it('has a name among facts too', () => {
    const named = new Set(plan.unresolved.map(({ by }) => plainFacts(by.entity)));
    expect([...named]).toEqual(expect.arrayContaining(['PTP domain 1', 'PTP domain', 'join of red-video', 'R1']));
    expect([...named].filter((name) => typeof name !== 'string' || name.trim() !== name || name === '')).toEqual([]);
  });

  it('is called what the crew calls it', () => {
    expect([...new Set(plan.unresolved.map(({ by }) => `${by.kind}: ${referrerLabel(by)}`))].sort()).toEqual([
      'conventionGroups: groups of the conventions',
      'device: cam',
      'join: a join',
      'link: link R1',
      'link: link gone/1 to core/1',
      'lipSync: lip sync stage',
      'ptpDomain: PTP domain',
      'ptpDomain: PTP domain 1',
      'ptpDomain: PTP domain conventions',
      'receiver: wall/in',
      'roundTrip: round trip talk',
      'stream: tally',
      'switch: switch core',
      'vlan: VLAN red-video',
    ]);
  });
});
