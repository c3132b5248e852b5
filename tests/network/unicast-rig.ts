/** Random rigs whose streams go to one address each: the rig of `random-rig.ts`, with addresses, gateways and no groups. */
import { planOf, type RandomRig } from './random-rig.js';

interface RawDevice {
  readonly name: string;
  readonly interfaces: { readonly name: string; readonly vlan: string; address?: string; silent?: boolean }[];
  readonly senders?: { legs: Record<string, unknown>[] }[];
}

export interface RawRig {
  readonly vlans: Record<string, unknown>[];
  readonly switches: { readonly name: string; ports: Record<string, unknown>[] }[];
  readonly links: Record<string, unknown>[];
  readonly devices: RawDevice[];
  formats?: object[];
}

const SUBNETS: Readonly<Record<string, string>> = {
  'red-video': '10.1.0',
  'red-audio': '10.1.1',
  'blue-video': '10.2.0',
};

/** Streams go to their first receiver; `silent` says which receivers never speak. */
export function unicastPlan(rig: RandomRig, silent: (stream: number) => boolean = () => false): RawRig {
  const raw = planOf(rig) as RawRig;
  const counts = new Map<string, number>();
  for (const { interfaces } of raw.devices) {
    for (const one of interfaces) {
      const number = (counts.get(one.vlan) ?? 10) + 1;
      counts.set(one.vlan, number);
      one.address = `${SUBNETS[one.vlan] ?? ''}.${number}/24`;
    }
  }
  for (const vlan of raw.vlans) {
    const subnet = SUBNETS[String(vlan['name'])] ?? '';
    vlan['subnet'] = `${subnet}.0/24`;
    if (vlan['routing'] !== undefined) vlan['gateway'] = `${subnet}.1`;
    delete vlan['routing'];
  }
  rig.streams.forEach((_, number) => {
    const sender = raw.devices.find(({ name }) => name === `cam-${number}`)?.senders?.[0];
    const taker = raw.devices.find(({ name }) => name === `monitor-${number}-0`);
    sender?.legs.forEach((leg, index) => {
      const via = taker?.interfaces[index];
      delete leg['group'];
      leg['unicast'] = via?.address?.split('/')[0] ?? '10.9.0.1';
      if (via !== undefined && silent(number)) via.silent = true;
    });
  });
  return raw;
}
