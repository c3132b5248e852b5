/** A small plan, and what lies between it and a changed one. */
import { expect } from 'vitest';
import { comparePlans } from '../../src/compare/compare.js';
import type { Comparison, Step } from '../../src/compare/steps.js';
import { loadPlan } from '../../src/plan/load.js';
import type { Plan } from '../../src/plan/types.js';

export const BASE = `
rig: Heron
conventions: {groups: [{network: red, essence: video, ranges: [239.192.0.0/24]}]}
networks: [{name: red, leg: 1}, {name: blue, leg: 2}, {name: control, role: control}]
vlans:
  - name: red-video
    id: 110
    network: red
    subnet: 10.20.10.0/24
    gateway: 10.20.10.254
    igmp: {snooping: true, version: 3, queryInterval: 30, querier: [{on: red-core, address: 10.20.10.1}]}
  - {name: blue-video, id: 120, network: blue, subnet: 10.21.10.0/24}
  - {name: control, id: 100, network: control, subnet: 192.168.10.0/24}
switches:
  - name: red-core
    ports: [{name: 1-8, rate: 25G, access: red-video}, {name: 9, trunk: [red-video]}]
    addresses: [{vlan: red-video, address: 10.20.10.1/24}]
  - {name: red-start, ports: [{name: 1-8, rate: 25G, access: red-video}, {name: 9, trunk: [red-video]}]}
  - {name: blue-core, ports: [{name: 1-8, access: blue-video}]}
links: [{name: R01, ends: [red-core/9, red-start/9], length: 300 m}]
timing:
  domains: [{name: all, number: 127, logAnnounceInterval: 0}]
  linkOffset: 3 ms
formats: [{name: picture, coding: st2110-20, width: 1920, height: 1080, frameRate: 50}]
devices:
  - name: cam-31
    ptp: {domain: 127, priority1: 255}
    interfaces:
      - {name: red, vlan: red-video, address: 10.20.10.31, mac: '02:00:5e:10:00:31', port: red-start/1}
      - {name: blue, vlan: blue-video, address: 10.21.10.31, port: blue-core/1}
      - {name: control, vlan: control, address: 192.168.10.31}
    senders:
      - name: picture
        format: picture
        legs:
          - {interface: red, group: 239.192.0.31, port: 20000}
          - {interface: blue, group: 239.193.0.31, port: 20000}
  - name: cam-32
    interfaces: [{name: red, vlan: red-video, address: 10.20.10.32, port: red-start/2}]
    senders: [{name: picture, format: picture, legs: [{interface: red, group: 239.192.0.32, port: 20000}]}]
  - name: vision
    interfaces:
      - {name: red, vlan: red-video, address: 10.20.10.40, port: red-core/1}
      - {name: blue, vlan: blue-video, address: 10.21.10.40, port: blue-core/2}
    receivers: [{name: in-31, takes: cam-31/picture}, {name: in-32, takes: cam-32/picture, interfaces: [red]}]
  - name: recorder
    interfaces: [{name: red, vlan: red-video, address: 10.20.10.41, port: red-core/2}]
    receivers: [{name: track-31, legs: [{interface: red, group: 239.192.0.31}]}]
`;

export function planOf(text: string): Plan {
  const { plan, problems } = loadPlan([{ name: 'plan.yaml', text }]);
  expect(problems).toEqual([]);
  return plan;
}

export function compared(...changes: readonly (readonly [string, string])[]): Comparison {
  const changed = changes.reduce((text, [old, now]) => {
    expect(text, 'the change is one').toContain(old);
    return text.replace(old, now);
  }, BASE);
  return comparePlans(planOf(BASE), planOf(changed));
}

/** `set cam-31 red, leg 1: group 239.192.0.31 > 239.192.0.99`. */
export function words({ steps }: Comparison): readonly string[] {
  return steps
    .map(({ action, box, at, what, old, new: now }: Step) => {
      const where = `${box.kind === 'device' ? '' : `${box.kind} `}${box.name}${at === undefined ? '' : ` ${at}`}`;
      return `${action} ${where}: ${what} ${old ?? '-'} > ${now ?? '-'}`;
    })
    .sort();
}
