/** A rig with one stream to one address through a gateway, and what is asked of it. */
import { expect } from 'vitest';
import { RULES } from '../../rules/index.js';
import { lintInputs } from '../../src/lint/lint.js';
import type { LintResult } from '../../src/lint/result.js';
import { createModel, type Model } from '../../src/model/model.js';
import { loadPlan } from '../../src/plan/load.js';

export interface Raw {
  vlans: Record<string, unknown>[];
  switches: Record<string, unknown>[];
  links: Record<string, unknown>[];
  devices: Record<string, unknown>[];
  formats: object[];
  rig: string;
}

/** A camera on one leaf, a decoder on another, the gateways of both VLANs at the spine between them. */
export function rig(change: (raw: Raw) => void = () => undefined): Raw {
  const raw: Raw = {
    rig: 'Heron',
    formats: [{ name: 'proxy', coding: 'h264', rate: '20M' }],
    vlans: [
      {
        name: 'cams',
        id: 110,
        subnet: '10.10.0.0/24',
        subnet6: 'fd00:10::/64',
        gateway: '10.10.0.1',
        gateway6: 'fd00:10::1',
      },
      {
        name: 'monitors',
        id: 130,
        subnet: '10.30.0.0/24',
        subnet6: 'fd00:30::/64',
        gateway: '10.30.0.1',
        gateway6: 'fd00:30::1',
      },
    ],
    switches: [
      {
        name: 'leaf-1',
        ports: [
          { name: '1-8', access: 'cams', rate: '1G' },
          { name: 'up', trunk: ['cams', 'monitors'], rate: '10G' },
        ],
      },
      {
        name: 'leaf-2',
        ports: [
          { name: '1-8', access: 'monitors', rate: '1G' },
          { name: 'up', trunk: ['cams', 'monitors'], rate: '10G' },
        ],
      },
      {
        name: 'spine',
        addresses: [
          { vlan: 'cams', address: '10.10.0.1/24' },
          { vlan: 'monitors', address: '10.30.0.1/24' },
          { vlan: 'cams', address: 'fd00:10::1/64' },
          { vlan: 'monitors', address: 'fd00:30::1/64' },
        ],
        ports: [{ name: '1-4', trunk: ['cams', 'monitors'], rate: '10G' }],
      },
    ],
    links: [
      { name: 'L1', ends: ['leaf-1/up', 'spine/1'] },
      { name: 'L2', ends: ['leaf-2/up', 'spine/2'] },
    ],
    devices: [
      {
        name: 'cam',
        interfaces: [
          { name: 'main', vlan: 'cams', address: '10.10.0.11/24', address6: 'fd00:10::11/64', port: 'leaf-1/1' },
        ],
        senders: [{ name: 'video', format: 'proxy', legs: [{ interface: 'main', unicast: '10.30.0.51', port: 5004 }] }],
      },
      {
        name: 'decoder',
        interfaces: [
          { name: 'main', vlan: 'monitors', address: '10.30.0.51/24', address6: 'fd00:30::51/64', port: 'leaf-2/1' },
        ],
        receivers: [{ name: 'in', takes: 'cam/video', legs: [{ interface: 'main' }] }],
      },
    ],
  };
  change(raw);
  return raw;
}

export function lint(raw: Raw): LintResult {
  return lintInputs([{ name: 'plan.json', text: JSON.stringify(raw) }], RULES, { today: '2026-06-01' });
}

export function modelOf(raw: Raw): Model {
  const { plan, problems } = loadPlan([{ name: 'plan.json', text: JSON.stringify(raw) }]);
  expect(problems).toEqual([]);
  return createModel(plan);
}

/** `delivered`, or what denies it or lacks. */
export function verdict(raw: Raw): string {
  const { verdicts } = modelOf(raw);
  expect(verdicts.legs).toBe(1);
  if (verdicts.delivered === 1) return 'delivered';
  return verdicts.notDelivered[0]?.denial ?? `lacks ${[...verdicts.notFollowed.keys()].join(', ')}`;
}

export function rules(raw: Raw): readonly string[] {
  return lint(raw).findings.map(({ rule }) => rule);
}

export function loads(raw: Raw): Readonly<Record<string, number>> {
  const { load } = modelOf(raw);
  return Object.fromEntries(
    [...load.links].flatMap(([{ name = '' }, { there, back }]) =>
      [
        [`${name} there`, Math.round(there / 1e6)],
        [`${name} back`, Math.round(back / 1e6)],
      ].filter(([, mbps]) => Number(mbps) > 0),
    ),
  ) as Readonly<Record<string, number>>;
}

export const camOf = (
  raw: Raw,
): { interfaces: Record<string, unknown>[]; senders: { legs: Record<string, unknown>[] }[] } => raw.devices[0] as never;
export const decoderOf = (raw: Raw): { interfaces: Record<string, unknown>[] } => raw.devices[1] as never;
export const sendTo = (address: string) => (raw: Raw) => {
  Object.assign(camOf(raw).senders[0]?.legs[0] ?? {}, { unicast: address });
};
export const without = (thing: object | undefined, ...keys: readonly string[]): void => {
  for (const key of keys) Reflect.deleteProperty(thing ?? {}, key);
};
