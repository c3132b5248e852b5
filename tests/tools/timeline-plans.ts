/** What the tests of timelines share: Heron with a ring of STP switches, a standby querier in red, none in blue; and its timelines. */
import type { TimelineResult } from '../../src/answers/timeline.js';
import type { Model } from '../../src/model/model.js';
import { buildTimeline, losables } from '../../src/model/timeline/index.js';

const SET = 'snoopingKey: source-group, unregistered: drop, noQuerier: prune';
const ACCESS = (vlan: string): string => `{name: 1-9, rate: 25G, access: ${vlan}}`;

export const GATE = `
rig: Heron
networks: [{name: red, leg: 1}, {name: blue, leg: 2}]
vlans:
  - {name: red-video, id: 210, network: red, igmp: {snooping: true, querier: [{on: red-core, address: 10.20.10.1}, {on: red-start, address: 10.20.10.2}]}}
  - {name: blue-video, id: 310, network: blue, igmp: {snooping: true, querier: [{on: blue-core, address: 10.21.10.1}], queryInterval: 60}}
timing:
  domains: [{name: media, number: 127, logAnnounceInterval: 0, announceReceiptTimeout: 3, grandmasters: [clock-201, clock-202]}]
switches:
  - {name: red-core, ${SET}, spanningTree: {mode: stp, priority: 4096, mac: '02:00:00:00:00:01'}, ptp: {mode: boundary, domain: 127, clockIdentity: 00-00-00-FF-FE-00-00-50, settle: 8 s}, ports: [${ACCESS('red-video')}, {name: 49-50, rate: 100G, trunk: [red-video]}]}
  - {name: red-start, ${SET}, spanningTree: {mode: stp, priority: 8192, mac: '02:00:00:00:00:02'}, ptp: {mode: boundary, domain: 127, clockIdentity: 00-00-00-FF-FE-00-00-60, settle: 8 s}, ports: [${ACCESS('red-video')}, {name: 49-50, rate: 100G, trunk: [red-video]}]}
  - {name: red-tower, ${SET}, spanningTree: {mode: stp, mac: '02:00:00:00:00:03'}, ports: [${ACCESS('red-video')}, {name: 49-50, rate: 100G, trunk: [red-video]}]}
  - {name: blue-core, ${SET}, ports: [${ACCESS('blue-video')}, {name: 49, rate: 100G, trunk: [blue-video]}]}
  - {name: blue-start, ${SET}, ports: [${ACCESS('blue-video')}, {name: 49, rate: 100G, trunk: [blue-video]}]}
links:
  - {name: R1, ends: [red-core/49, red-start/49]}
  - {name: R2, ends: [red-core/50, red-tower/49]}
  - {name: R3, ends: [red-start/50, red-tower/50]}
  - {name: B1, ends: [blue-core/49, blue-start/49]}
devices:
  - {name: clock-201, ptp: {mode: ordinary, domain: 127, clockClass: 6, priority2: 1, clockIdentity: 00-00-00-FF-FE-00-00-01}, interfaces: [{name: red, vlan: red-video, port: red-core/9}]}
  - {name: clock-202, ptp: {mode: ordinary, domain: 127, clockClass: 6, priority2: 2, clockIdentity: 00-00-00-FF-FE-00-00-02}, interfaces: [{name: red, vlan: red-video, port: red-start/9}]}
  - name: cam-11
    ptp: {mode: ordinary, domain: 127, slaveOnly: true, clockIdentity: 00-00-00-FF-FE-00-00-11}
    interfaces: [{name: red, vlan: red-video, port: red-start/1}, {name: blue, vlan: blue-video, port: blue-start/1}]
    senders: [{name: video, legs: [{interface: red, group: 239.192.10.11}, {interface: blue, group: 239.193.10.11}]}]
  - name: cam-12
    interfaces: [{name: red, vlan: red-video, port: red-tower/1}]
    senders: [{name: video, legs: [{interface: red, group: 239.192.10.12}]}]
  - name: vision
    ptp: {mode: ordinary, domain: 127, slaveOnly: true, settle: 15 s, clockIdentity: 00-00-00-FF-FE-00-00-13}
    interfaces: [{name: red, vlan: red-video, port: red-core/1}, {name: blue, vlan: blue-video, port: blue-core/1}]
    receivers: [{name: in-11, takes: cam-11/video}, {name: in-12, takes: cam-12/video}]
  - name: wall
    interfaces: [{name: red, vlan: red-video, port: red-tower/2}, {name: blue, vlan: blue-video, port: blue-start/2}]
    receivers: [{name: in-11, takes: cam-11/video}, {name: spare}]
`;

/** Of everything that can be lost, or of one by its name. */
export function timelinesOf(model: Model, name?: string): TimelineResult {
  const asked = losables(model.plan, model.timing).filter((one) => name === undefined || one.name === name);
  return { timelines: asked.map((one) => buildTimeline(model, one)), problems: [], all: false, blind: [] };
}
