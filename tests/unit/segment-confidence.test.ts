/** How sure the findings on IGMP, MLD and VLANs are: assumed where they rest on what the plan leaves open. */
import { describe, expect, it } from 'vitest';
import noBackupQuerier from '../../rules/igmp/no-backup-querier/rule.js';
import noQuerier from '../../rules/igmp/no-querier/rule.js';
import settingsDiffer from '../../rules/igmp/settings-differ/rule.js';
import sharedGroup from '../../rules/igmp/shared-group-keyed-by-group/rule.js';
import wrongQuerierWins from '../../rules/igmp/wrong-querier-wins/rule.js';
import idTwice from '../../rules/vlans/id-twice/rule.js';
import notRouted from '../../rules/vlans/not-routed/rule.js';
import { lintInputs } from '../../src/lint/lint.js';
import type { Rule } from '../../src/lint/rule.js';

/** A sender on one switch, a receiver on another; what the VLAN and both switches say is given. */
const rig = (vlan: string, both: string): string => `
networks: [{name: red, leg: 1}]
vlans: [{name: red-video, network: red, ${vlan}}]
switches:
  - {name: core, ${both} ports: [{name: 1, trunk: [red-video]}]}
  - {name: leaf, ${both} ports: [{name: 1-3, access: red-video}, {name: 9, trunk: [red-video]}]}
links: [{ends: [core/1, leaf/9]}]
devices:
  - name: cam
    interfaces: [{name: red, vlan: red-video, port: leaf/1, address: 10.0.0.1}]
    senders: [{name: video, legs: [{interface: red, group: 239.1.1.1, source: 10.0.0.1}]}]
  - name: spare
    interfaces: [{name: red, vlan: red-video, port: leaf/3, address: 10.0.0.3}]
    senders: [{name: video, legs: [{interface: red, group: 239.1.1.1, source: 10.0.0.3}]}]
  - name: mon
    interfaces: [{name: red, vlan: red-video, port: leaf/2}]
    receivers: [{name: in, takes: cam/video, legs: [{interface: red, source: 10.0.0.1}]}]
`;
const LONE = 'igmp: {snooping: true, version: 3, querier: [{on: core, address: 10.0.0.9}]}';
const KEYED = 'snoopingKey: group,';
const two = (timers: string): string => `
vlans: [{name: red, id: 10, igmp: {queryInterval: 60}}, {name: again, id: 10, igmp: {${timers}}}]
switches: [{name: core, ports: [{name: 1, access: red}, {name: 2, access: again}]}]
`;
const queriers = (address: string): string => `
vlans: [{name: red, igmp: {querier: [{on: a, address: 10.0.0.2}, {on: b${address}}]}}]
switches: [{name: a}, {name: b, addresses: [{vlan: red, address: 10.0.0.1/24}]}]
`;
const crossing = (routing: string): string => `
vlans: [{name: red${routing}}, {name: blue}]
devices:
  - name: cam
    interfaces: [{name: a, vlan: red}]
    senders: [{name: video, legs: [{interface: a, group: 239.1.1.1}]}]
  - {name: mon, interfaces: [{name: a, vlan: blue}], receivers: [{name: in, takes: cam/video}]}
`;
const ids = (network: string): string => `
networks: [{name: net}]
vlans: [{name: red, id: 10${network}}, {name: blue, id: 10${network}}]
`;

describe.each([
  ['igmp/no-querier', noQuerier, rig('igmp: {snooping: true}', 'noQuerier: prune,'), rig('igmp: {snooping: true}', '')],
  ['igmp/no-backup-querier', noBackupQuerier, rig(LONE, 'noQuerier: prune,'), rig(LONE, '')],
  ['igmp/shared-group-keyed-by-group', sharedGroup, rig(LONE, KEYED), rig(LONE, KEYED).replace(KEYED, '')],
  ['igmp/settings-differ', settingsDiffer, two('queryInterval: 30'), two('robustness: 2')],
  ['igmp/wrong-querier-wins', wrongQuerierWins, queriers(', address: 10.0.0.1'), queriers('')],
  ['vlans/not-routed', notRouted, crossing(', routing: {mode: pim-sm}'), crossing('')],
  ['vlans/id-twice', idTwice, ids(', network: net'), ids('')],
])('%s', (_, rule, stated, open) => {
  it('is certain where the plan states what it rests on', () => {
    expect(confidences(rule, stated)).toEqual(['certain']);
  });

  it('is assumed where the plan leaves it open', () => {
    expect(confidences(rule, open)).toEqual(['assumed']);
  });
});

function confidences(rule: Rule, text: string): readonly string[] {
  const result = lintInputs([{ name: 'plan.yaml', text }], [rule], { today: '2026-06-01' });
  expect(result.problems).toEqual([]);
  expect(result.crashed).toEqual([]);
  return result.findings.map(({ confidence }) => confidence);
}
