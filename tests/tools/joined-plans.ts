/** Three small rigs and the files that join them. */
import { expect } from 'vitest';
import { loadPlan } from '../../src/plan/load.js';
import { type Domains } from '../../src/model/vlans/domains.js';
import type { Plan, Port, Vlan } from '../../src/plan/types.js';

export const HERON = `
rig: Heron
networks: [{name: red}, {name: blue}]
vlans:
  - {name: red-video, id: 210, network: red, subnet: 10.20.10.0/24}
  - {name: control, id: 100, subnet: 192.168.10.0/24}
switches:
  - name: core
    ports: [{name: 1-4, access: red-video}, {name: 5, access: control}, {name: 60-61, access: control}]
devices:
  - name: cam-11
    interfaces:
      - {name: red, vlan: red-video, address: 10.20.10.11/24, port: core/1}
      - {name: control, vlan: control, address: 192.168.10.11/24, port: core/5}
    senders:
      - {name: video, legs: [{interface: red, group: 239.192.10.11, port: 5004}]}
`;
export const DUNLIN = `
rig: Dunlin
networks: [{name: red}]
vlans:
  - {name: red-pictures, id: 110, network: red, subnet: 172.20.1.0/24}
  - {name: control, id: 100, subnet: 192.168.10.0/24}
switches:
  - name: core
    ports: [{name: 1-4, access: red-pictures}, {name: 5, access: control}, {name: 60-61, access: control}]
devices:
  - name: camera-31
    interfaces:
      - {name: red, vlan: red-pictures, address: 172.20.1.31/24, port: core/1}
      - {name: control, vlan: control, address: 192.168.10.11/24, port: core/5}
    senders:
      - {name: video, legs: [{interface: red, group: 239.192.10.11, port: 5004}]}
`;
export const TERN = `
rig: Tern
vlans:
  - {name: pictures, id: 30}
  - {name: control, id: 100}
switches:
  - name: tern-core
    ports: [{name: 1-4, access: pictures}, {name: 5, access: control}]
`;

export function joinFile(...lines: readonly string[]): string {
  return ['rig: Kestrel Bay', ...lines].join('\n');
}

export function read(...texts: readonly string[]): Plan {
  const { plan, problems } = loadPlan(texts.map((text, index) => ({ name: `${index}.yaml`, text })));
  expect(problems).toEqual([]);
  return plan;
}

export function vlan(plan: Plan, rig: string, name: string): Vlan {
  const found = plan.vlans.find((one) => one.rig.name === rig && one.name === name);
  if (found === undefined) throw new Error(`no VLAN ${name} in ${rig}`);
  return found;
}

export function port(plan: Plan, rig: string, name: string): Port {
  const found = plan.switches.find((one) => one.rig.name === rig)?.ports.get(name);
  if (found === undefined) throw new Error(`no port ${name} in ${rig}`);
  return found;
}

export function switchedOf(domains: Domains, one: Vlan): object {
  return domains.switched({ vlan: one, network: one.network });
}

export const labels = (vlans: readonly Vlan[]): readonly string[] =>
  vlans.map(({ name, rig }) => `${rig.name}:${name}`).sort();
