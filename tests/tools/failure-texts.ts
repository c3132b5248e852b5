/** What the tests of the failure table share: a small Heron, and its results. */
import { Ajv } from 'ajv';
import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { type Model } from '../../src/model/model.js';
import { buildFailureTable, elementsOf } from '../../src/model/explain/failure-table.js';
import type { FailuresResult } from '../../src/answers/failures.js';

export const HERON = fileURLToPath(new URL('../../examples/kestrel-bay/heron', import.meta.url));
export const PLAIN = { version: '0.1.0', width: 90, colour: false };
export const SCHEMA = JSON.parse(
  readFileSync(new URL('../../schemas/failures.schema.json', import.meta.url), 'utf8'),
) as object;
export const validate = new Ajv({ strict: true, allErrors: true, allowUnionTypes: true }).compile(SCHEMA);

/** Two legs that share a power feed at the start, a backup that takes one leg, and a ring whose last link is small. */
export const HERON_SMALL = `
rig: Heron
formats: [{name: 1080p50, coding: st2110-20, width: 1920, height: 1080, frameRate: 50, sampling: 'YCbCr-4:2:2', depth: 10}]
networks: [{name: red, leg: 1}, {name: blue, leg: 2}]
vlans:
  - {name: red-video, id: 210, network: red, igmp: {snooping: true, querier: [{on: red-core, address: 10.20.10.1}]}}
  - {name: blue-video, id: 310, network: blue, igmp: {snooping: true, querier: [{on: blue-core, address: 10.21.10.1}], queryInterval: 60}}
switches:
  - {name: red-start, power: [start-mains], ports: [{name: 1-4, rate: 25G, access: red-video}, {name: 49-50, rate: 100G, trunk: [red-video]}]}
  - {name: red-tower, power: [tower-mains], ports: [{name: 1-4, rate: 25G, access: red-video}, {name: 49-50, rate: 100G, trunk: [red-video]}]}
  - {name: red-core, power: [ups-a, ups-b], ports: [{name: 1-4, rate: 100G, access: red-video}, {name: 49-50, rate: 100G, trunk: [red-video]}]}
  - {name: blue-start, power: [start-mains], ports: [{name: 1-4, rate: 25G, access: blue-video}, {name: 49, rate: 100G, trunk: [blue-video]}]}
  - {name: blue-core, power: [ups-a, ups-b], ports: [{name: 1-4, rate: 100G, access: blue-video}, {name: 49, rate: 100G, trunk: [blue-video]}]}
links:
  - {name: R1, ends: [red-core/49, red-start/49], rate: 100G, risks: [towpath duct]}
  - {name: R2, ends: [red-core/50, red-tower/49], rate: 1G}
  - {name: R3, ends: [red-start/50, red-tower/50], rate: 1G}
  - {name: B1, ends: [blue-core/49, blue-start/49], rate: 100G}
devices:
  - name: cam-11
    power: [start-mains, start-generator]
    interfaces: [{name: red, vlan: red-video, port: red-start/1}, {name: blue, vlan: blue-video, port: blue-start/1}]
    senders: [{name: video, format: 1080p50, legs: [{interface: red, group: 239.192.10.11}, {interface: blue, group: 239.193.10.11}]}]
  - name: cam-12
    interfaces: [{name: red, vlan: red-video, port: red-start/2}]
    senders: [{name: video, format: 1080p50, legs: [{interface: red, group: 239.192.10.12}]}, {name: spare, legs: [{interface: red, group: 239.192.10.99}]}]
  - name: cam-13
    senders: [{name: video, legs: [{group: 239.192.10.13}]}]
  - name: vision
    interfaces: [{name: red, vlan: red-video, port: red-core/1}, {name: blue, vlan: blue-video, port: blue-core/1}]
    receivers: [{name: in-11, takes: cam-11/video}, {name: in-12, takes: cam-12/video}, {name: in-13, takes: cam-13/video, legs: [{interface: red}]}]
  - name: backup
    interfaces: [{name: red, vlan: red-video, port: red-core/2}, {name: blue, vlan: blue-video}]
    receivers: [{name: in-11, takes: cam-11/video}, {name: any, legs: [{interface: red, group: 239.192.10.12}]}]
`;

export function resultOf(model: Model, more: Partial<FailuresResult> = {}): FailuresResult {
  return { table: buildFailureTable(model), problems: [], all: false, ...more };
}

export function asked(model: Model, ...names: readonly string[]): FailuresResult {
  return resultOf(model, { asked: elementsOf(model.plan).filter(({ name }) => names.includes(name)) });
}
