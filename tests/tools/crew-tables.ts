/** What the tests of crew sheets share: a small plan, and a sheet as a table. */
import { parse } from 'csv-parse/sync';
import { fileURLToPath } from 'node:url';
import type { Plan } from '../../src/plan/types.js';
import { crewSheets, type SheetName } from '../../src/reporters/crew.js';
import { modelOf } from '../tools/network-plans.js';

export type Row = Readonly<Record<string, string>>;

export const folderOf = (rig: string): string =>
  fileURLToPath(new URL(`../../examples/kestrel-bay/${rig}`, import.meta.url));
export const RIGS = ['heron', 'dunlin'] as const;

export function textOf(plan: Plan, name: SheetName): string {
  const sheet = crewSheets(plan, [name])[0];
  if (sheet === undefined) throw new Error(`no sheet ${name}`);
  return sheet.text;
}

/** Rows as the CSV library reads them. */
export function rowsOf(plan: Plan, name: SheetName): readonly Row[] {
  return parse(textOf(plan, name), { columns: true });
}

export function cellsOf(text: string): readonly (readonly string[])[] {
  const cells: string[][] = parse(text);
  return cells;
}

export function tableOf(plan: Plan, name: SheetName, headings: readonly string[]): readonly (readonly string[])[] {
  return rowsOf(plan, name).map((row) => headings.map((heading) => row[heading] ?? 'no such column'));
}

/** A start pontoon and a finish tower, with everything a sheet can show. */
export const SMALL = `
rig: Heron
networks: [{name: red, role: media, leg: 1}, {name: control, role: control}]
formats: [{name: pair, coding: st2110-30, channels: 2, sampleRate: 48000, sampleBits: 24, packetTime: 1 ms}]
vlans:
  - name: red-audio
    id: 220
    network: red
    subnet: 10.20.20.0/28
    gateway: 10.20.20.1
    igmp: {version: 3, querier: [{on: red-start, address: 10.20.20.10}, {on: red-core, address: 10.20.20.2}]}
  - {name: red-video, id: 30, network: red, subnet6: 'fd00:20::/64'}
  - {name: control, id: 100, network: control, subnet: 192.168.10.0/24, gateway: 192.168.10.1, dhcp: 192.168.10.100-192.168.10.199}
switches:
  - name: red-core
    ports:
      - {name: 10, rate: 25G, trunk: [red-audio, red-video], native: red-video}
      - {name: 2, rate: 1G, access: red-audio}
      - {name: 3, trunk: all}
    addresses: [{vlan: red-audio, address: 10.20.20.2}]
  - {name: red-start, ports: [{name: 1-2, rate: 1G, access: red-audio}, {name: 9, rate: 25G, trunk: [red-audio, red-video]}]}
links: [{name: R1, ends: [red-core/10, red-start/9]}]
timing: {domains: [{number: 127, profile: ST 2059-2, edition: '2015', logSyncInterval: -3, grandmasters: [clock-2, clock-1]}]}
kinds: [{name: stage-box, interfaces: [{name: red, vlan: red-audio, rate: 1G}]}]
devices:
  - name: stage-10
    kind: stage-box
    area: start pontoon
    ptp: {mode: ordinary, slaveOnly: true}
    interfaces: [{name: red, address: 10.20.20.4, mac: 02-48-20-20-00-10, port: red-start/1}, {name: control, vlan: control, dhcp: true}]
    senders: [{name: mics, format: pair, legs: [{interface: red, group: 239.192.120.10, port: 5004, payloadType: 97}]}]
  - name: stage-9
    kind: stage-box
    area: start pontoon
    interfaces: [{name: red, address: 10.20.20.3/28}, {name: video, vlan: red-video, address6: 'fd00:20::9'}]
    senders: [{name: mics, format: pair, legs: [{interface: red, unicast: 10.20.20.4, port: 5004}]}]
  - name: desk
    interfaces: [{name: red, vlan: red-audio, port: red-core/2}, {name: control, vlan: control, dhcp: true, address: 192.168.10.20/24, gateway: 192.168.10.1}]
    receivers: [{name: in-10, takes: stage-10/mics, interfaces: [red]}, {name: in-2, takes: stage-10/mics, interfaces: [red]}, {name: any, legs: [{interface: red, group: 239.192.120.10}]}]
  - {name: clock-1, ptp: {domain: 127, priority1: 1, priority2: 1, clockClass: 6}}
  - {name: clock-2, ptp: {domain: 127, priority1: 2, clockClass: 6, profile: AES67}}
`;
export const small = modelOf(SMALL).plan;
