/** Random requests, and rigs to keep clear of. */
import type { Finding } from '../../src/lint/finding.js';
import { whatOf } from '../tools/worded.js';
import fc from 'fast-check';
import { expect } from 'vitest';
import type { allocate, Allocation } from '../../src/allocate/allocate.js';
import { rawRequest, readRequest, type RawRequest } from '../../src/allocate/request.js';
import { loadPlan } from '../../src/plan/load.js';
import type { Plan } from '../../src/plan/types.js';
import type { RawPlan } from '../../src/read/raw-plan.js';
import { rigInput, type RigShape } from '../tools/two-rigs.js';

export const TODAY = '2026-06-01';
export const AREAS = ['boat shed', 'jetty', 'judges hut'];

export interface Shape {
  readonly redundant: boolean;
  readonly split: boolean;
  readonly lines: readonly {
    readonly kind: 'camera' | 'desk' | 'panel';
    readonly area: number;
    readonly count: number;
  }[];
  readonly growth: number;
  readonly dhcp: number;
  readonly switches: boolean;
}

export const shape: fc.Arbitrary<Shape> = fc.record({
  redundant: fc.boolean(),
  split: fc.boolean(),
  lines: fc.array(
    fc.record({
      kind: fc.constantFrom('camera', 'desk', 'panel'),
      area: fc.integer({ min: 0, max: 2 }),
      count: fc.integer({ min: 1, max: 30 }),
    }),
    { minLength: 1, maxLength: 6 },
  ),
  growth: fc.integer({ min: 0, max: 100 }),
  dhcp: fc.integer({ min: 0, max: 30 }),
  switches: fc.boolean(),
});

/** A request as somebody would write it. */
export function requestOf({ redundant, split, lines, growth, dhcp, switches }: Shape): RawRequest {
  const legs = redundant ? ['red', 'blue'] : ['red'];
  const use = new Set(lines.map(({ kind }) => kind));
  const at = (leg: string, part: string): object => (split ? { vlan: `${leg}-${part}` } : { network: leg });
  const used = (part: string): boolean => (part === 'sound' ? use.has('panel') : use.has('camera') || use.has('desk'));
  const interfaces = (part: string, rate: string): object[] => [
    ...legs.map((leg) => ({ name: leg, ...at(leg, part), rate })),
    { name: 'control', network: 'control', rate: '1G' },
  ];
  const ends = { interfaces: legs };
  const kinds = [
    {
      name: 'camera',
      interfaces: interfaces('pictures', '25G'),
      senders: [
        { name: 'picture', format: 'picture' },
        { name: 'sound', format: 'sound' },
        { name: 'lens', format: 'ancillary' },
      ],
      receivers: [{ name: 'return', format: 'picture', ...ends }],
    },
    {
      name: 'desk',
      interfaces: interfaces('pictures', '100G'),
      senders: Array.from({ length: 5 }, (_, index) => ({
        name: `out-${index + 1}`,
        format: index < 3 ? 'picture' : 'sound',
      })),
    },
    { name: 'panel', interfaces: interfaces('sound', '1G'), senders: [{ name: 'talk', format: 'sound' }] },
  ].filter(({ name }) => use.has(name as 'camera'));
  const formats = [
    {
      name: 'picture',
      essence: 'video',
      coding: 'st2110-20',
      width: 1920,
      height: 1080,
      frameRate: 50,
      scan: 'progressive',
      sampling: 'YCbCr-4:2:2',
      depth: 10,
    },
    {
      name: 'sound',
      essence: 'audio',
      coding: 'st2110-30',
      channels: 2,
      sampleRate: 48_000,
      sampleBits: 24,
      packetTime: '1 ms',
    },
    { name: 'ancillary', essence: 'data', coding: 'st2110-40', frameRate: 50 },
  ];
  const text = JSON.stringify({
    rig: 'Sanderling',
    growth,
    networks: [
      ...legs.map((name, index) => ({ name, role: 'media', leg: index + 1 })),
      { name: 'control', role: 'control', dhcp },
    ],
    ...(split
      ? {
          vlans: legs.flatMap((leg) =>
            ['pictures', 'sound'].filter(used).map((part) => ({ name: `${leg}-${part}`, network: leg })),
          ),
        }
      : {}),
    areas: AREAS.map((name) => ({ name })),
    formats,
    kinds,
    devices: lines.map(({ kind, area, count }, index) => ({
      name: `${kind}-${index + 1}`,
      kind,
      area: AREAS[area],
      count,
    })),
    ...(switches
      ? {
          switches: [...legs, 'control'].flatMap((network) =>
            AREAS.map((area, index) => ({
              name: `${network}-${index + 1}`,
              network,
              area,
              ports: 64,
              uplinkRate: '400G',
            })),
          ),
        }
      : {}),
  });
  const { document, problems } = readRequest({ name: 'request.json', text });
  expect(problems).toEqual([]);
  if (document === undefined) throw new Error('the request of this test is not one');
  return rawRequest(document);
}

/** A rig on site, in the way of what would be picked first. */
export const onSite: fc.Arbitrary<RigShape> = fc.record({
  name: fc.constant('Heron'),
  cameras: fc.uniqueArray(
    fc.record({
      block: fc.integer({ min: 11, max: 40 }),
      last: fc.integer({ min: 1, max: 9 }),
      host: fc.integer({ min: 1, max: 200 }),
    }),
    { minLength: 1, maxLength: 8, selector: ({ host }) => host },
  ),
  ids: fc.constantFrom(110, 210, 300),
  net: fc.constantFrom(16, 30),
});

export function planOf(rig: RigShape): Plan {
  return loadPlan(rigInput(rig).inputs).plan;
}

export function met(outcome: ReturnType<typeof allocate>): Allocation {
  if ('refusals' in outcome) throw new Error(`refused: ${outcome.refusals.map(({ what }) => what).join('; ')}`);
  return outcome;
}

export function resolved(plan: RawPlan): Plan {
  const { plan: own, problems } = loadPlan([{ name: 'sanderling.json', text: JSON.stringify(plan) }]);
  expect(problems).toEqual([]);
  return own;
}

/** Findings as a reader sees them; load on the network is the request's own doing. */
export function said(findings: readonly Finding[]): readonly string[] {
  return findings.filter(({ rule }) => !rule.startsWith('capacity/')).map((one) => `${one.rule}: ${whatOf(one) ?? ''}`);
}

/** Every number of every device, by what has it. */
export function numbersOf(plan: Plan): ReadonlyMap<string, unknown> {
  return new Map([
    ...plan.interfaces.map(
      ({ device, name, address, port }) =>
        [`${device.name} ${name}`, [address, port?.switch.name, port?.name].join(' ')] as const,
    ),
    ...plan.legs.map(({ sender, index, group }) => [`${sender.label} ${index}`, String(group)] as const),
    ...plan.vlans.map(
      ({ name, id, subnet }) => [`VLAN ${name}`, [id, subnet?.network, subnet?.length].join(' ')] as const,
    ),
  ]);
}
