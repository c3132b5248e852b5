/** Two switches that act as one towards an aggregate (IEEE 802.1AX-2020 §9, from memory; common practice, no source). */
import { describe, expect, it } from 'vitest';
import { lintInputs } from '../../src/lint/lint.js';
import noQuerier from '../../rules/igmp/no-querier/rule.js';

function plan(pair: string, uplinks: string): string {
  return `
rig: Heron
vlans: [{name: red-video, id: 10, igmp: {snooping: true, unregistered: drop, querier: [{on: core-1, address: 10.20.10.1}]}}]
switches:
  - {name: core-1, ${pair}spanningTree: {mode: rstp, priority: 4096, mac: '02:48:20:10:00:a1'}, ports: [{name: 1-4, trunk: all}]}
  - {name: core-2, ${pair}spanningTree: {mode: rstp, priority: 8192, mac: '02:48:20:10:00:a2'}, ports: [{name: 1-4, trunk: all}, {name: 5, access: red-video}]}
  - {name: leaf, spanningTree: {mode: rstp, mac: '02:48:20:10:00:a3'}, ports: [{name: 1-2, trunk: all}, {name: 5, access: red-video}]}
links:
  - {name: peer, ends: [core-1/1, core-2/1], rate: 10G}
${uplinks}
devices:
  - {name: cam-1, interfaces: [{name: red, vlan: red-video, port: leaf/5}], senders: [{name: video, legs: [{interface: red, group: 239.20.1.1}]}]}
  - {name: mixer, interfaces: [{name: red, vlan: red-video, port: core-2/5}], receivers: [{name: in-1, takes: cam-1/video, interfaces: [red]}]}
`;
}

const BOTH = `  - {name: up-1, ends: [leaf/1, core-1/2], rate: 10G, aggregate: up}
  - {name: up-2, ends: [leaf/2, core-2/2], rate: 10G, aggregate: up}`;
const ONE = '  - {name: up-2, ends: [leaf/2, core-2/2], rate: 10G}';

describe('which switch of a pair a stream comes to', () => {
  const assumed = (text: string): readonly unknown[] =>
    lintInputs([{ name: 'plan.yaml', text }], [noQuerier], { today: '2026-06-01' }).assumptions.filter(
      ({ fact }) => fact === 'pairWay',
    );

  it('is said to be assumed where an aggregate ends at both', () => {
    expect(assumed(plan('pair: cores, ', BOTH))).toEqual([{ fact: 'pairWay', switches: ['core-1', 'core-2'] }]);
  });

  it('is no question where only one of them is linked, or they are no pair', () => {
    expect(assumed(plan('pair: cores, ', ONE))).toEqual([]);
    expect(assumed(plan('', BOTH.replaceAll(', aggregate: up', '')))).toEqual([]);
  });
});
