/** Random requests that a person could have written: venues, kinds, networks, switches, things to keep clear of. */
import fc from 'fast-check';
import type { RawRequest } from '../../src/allocate/request.js';
import type { RawDevice, RawFormat, RawNamed } from '../../src/read/raw-plan.js';

const FORMATS: readonly (RawFormat & RawNamed)[] = [
  { name: 'light picture', coding: 'st2110-22', essence: 'video', rate: '100M' },
  { name: 'pair', coding: 'st2110-30', channels: 2, sampleRate: 48000, sampleBits: 24, packetTime: '1 ms' },
  { name: 'data', coding: 'st2110-40', essence: 'data', frameRate: 50 },
];

const AREAS = ['truck', 'north bank', 'south bank', 'boathouse', 'tower'];

interface Shape {
  readonly legs: 1 | 2;
  readonly soundVlan: boolean;
  readonly control: boolean;
  readonly dhcp: number;
  readonly kinds: readonly (readonly [number, number, number])[];
  readonly lines: readonly {
    readonly kind: number;
    readonly area: number;
    readonly count: number;
    readonly spare: number;
  }[];
  readonly growth: number;
  readonly switches: boolean;
  readonly boundary: boolean;
  readonly clocks: number;
  readonly keepClear: NonNullable<RawRequest['keepClear']>;
  readonly follows: 'rfc2365' | 'either';
}

const octet = fc.integer({ min: 0, max: 255 });

const keepClear = fc.record({
  addresses: fc.array(
    fc.oneof(
      fc.tuple(fc.integer({ min: 16, max: 20 }), octet, octet).map(([a, b, c]) => `10.${a}.${b}.${c}`),
      fc.tuple(fc.integer({ min: 16, max: 30 }), octet).map(([a, b]) => `10.${a}.${b}.0/24`),
      fc.integer({ min: 16, max: 40 }).map((a) => `10.${a}.0.0/16`),
    ),
    { maxLength: 6 },
  ),
  groups: fc.array(
    fc.oneof(
      fc.tuple(fc.constantFrom(192, 193, 194), octet, octet).map(([a, b, c]) => `239.${a}.${b}.${c}`),
      fc.tuple(fc.constantFrom(64, 65, 192, 193), octet).map(([a, b]) => `239.${a}.${b}.0/24`),
      fc.constantFrom('239.192.0.0/16', '232.66.0.0/16'),
    ),
    { maxLength: 5 },
  ),
  vlanIds: fc.array(fc.oneof(fc.integer({ min: 1, max: 4094 }), fc.constantFrom('100-199', '210', '200-400')), {
    maxLength: 4,
  }),
});

const shape: fc.Arbitrary<Shape> = fc.record({
  legs: fc.constantFrom(1, 2),
  soundVlan: fc.boolean(),
  control: fc.boolean(),
  dhcp: fc.constantFrom(0, 0, 5, 40),
  kinds: fc.array(
    fc.tuple(fc.integer({ min: 0, max: 2 }), fc.integer({ min: 0, max: 6 }), fc.integer({ min: 0, max: 2 })),
    { minLength: 1, maxLength: 3 },
  ),
  lines: fc.array(
    fc.record({
      kind: fc.nat(2),
      area: fc.integer({ min: -1, max: AREAS.length - 1 }),
      count: fc.integer({ min: 0, max: 14 }),
      spare: fc.integer({ min: -1, max: 8 }),
    }),
    { minLength: 1, maxLength: 7 },
  ),
  growth: fc.constantFrom(0, 10, 25, 100),
  switches: fc.boolean(),
  boundary: fc.boolean(),
  clocks: fc.constantFrom(0, 2),
  keepClear,
  follows: fc.constantFrom('rfc2365', 'either'),
});

/** Requests that can be met. */
export const randomRequest: fc.Arbitrary<RawRequest> = shape.map(requestOf);

function requestOf(one: Shape): RawRequest {
  const sides = one.legs === 2 ? ['red', 'blue'] : ['media'];
  const kinds = one.kinds.map((streams, index) => kindOf(`kind-${index + 1}`, sides, streams, one, index % 2 === 1));
  const clocks: RawDevice = {
    name: 'clock',
    ptp: { mode: 'ordinary', grandmaster: true, traceable: true, clockClass: 6, interfaces: sides },
    interfaces: sides.map((name) => ({ name, vlan: vlanOf(name, false, one), rate: '1G' })),
  };
  const lines = one.lines.map(({ kind, area, count, spare }, index) => ({
    name: WORDS[index] ?? 'box',
    kind: `kind-${(kind % kinds.length) + 1}`,
    ...(area < 0 ? {} : { area: AREAS[area] ?? 'truck' }),
    ...(count === 0 ? {} : { count }),
    ...(spare < 0 ? {} : { spare }),
  }));
  const used = kinds.filter(({ name }) => lines.some(({ kind }) => kind === name));
  const clockLines = one.clocks === 0 ? [] : [{ name: 'clock', kind: 'clock', area: 'truck', count: one.clocks }];
  const networks = [...sides, ...(one.control ? ['control'] : [])];
  const boxes = lines.reduce((sum, { count = 1 }) => sum + count, 0) + one.clocks;
  return {
    rig: 'Wader',
    growth: one.growth,
    practice: { follows: one.follows, igmpVersion: 3 },
    networks: networks.map((name, index) => ({
      name,
      role: name === 'control' ? 'control' : 'media',
      ...(name === 'control' || one.legs === 1 ? {} : { leg: index + 1 }),
      ...(name === 'control' ? { dhcp: one.dhcp } : {}),
    })),
    vlans: sides.flatMap((name) =>
      [...new Set([vlanOf(name, false, one), vlanOf(name, true, one)])]
        .filter((vlan) =>
          [...used, ...(one.clocks > 0 ? [clocks] : [])].some(({ interfaces }) =>
            interfaces?.some((end) => end.vlan === vlan),
          ),
        )
        .map((vlan) => ({ name: vlan, network: name })),
    ),
    areas: AREAS.map((name) => ({ name })),
    formats: FORMATS,
    kinds: [...used, ...(one.clocks === 0 ? [] : [clocks])],
    devices: [...lines, ...clockLines],
    ...(one.switches
      ? {
          switches: networks.flatMap((network) =>
            ['truck', 'tower'].map((area, index) => ({
              name: `${network}-${index + 1}`,
              network,
              area,
              ports: boxes,
              rate: '25G',
              uplinkRate: '100G',
              boundary: one.boundary && one.clocks > 0 && network !== 'control',
            })),
          ),
        }
      : {}),
    keepClear: one.keepClear,
  };
}

const WORDS = ['cam', 'stage', 'desk', 'panel', 'replay', 'screen', 'mic'];

/** Clocks reach a second VLAN only through boundary clocks. */
function vlanOf(side: string, sound: boolean, { soundVlan, clocks, switches, boundary }: Shape): string {
  const reached = clocks === 0 || (switches && boundary);
  return `${side}-${sound && soundVlan && reached ? 'sound' : 'pictures'}`;
}

function kindOf(
  name: string,
  sides: readonly string[],
  [pictures, sounds, data]: readonly [number, number, number],
  shapeOf: Shape,
  sound: boolean,
): RawDevice {
  const streams = (count: number, word: string, format: string): RawDevice['senders'] =>
    Array.from({ length: count }, (_, index) => ({ name: `${word}-${index + 1}`, format }));
  return {
    name,
    ...(shapeOf.clocks === 0 ? {} : { ptp: { mode: 'ordinary', slaveOnly: true, interfaces: sides } }),
    interfaces: [
      ...sides.map((side) => ({ name: side, vlan: vlanOf(side, sound, shapeOf), rate: '10G' })),
      ...(shapeOf.control ? [{ name: 'control', network: 'control', rate: '1G' }] : []),
    ],
    senders: [
      ...(streams(pictures, 'picture', 'light picture') ?? []),
      ...(streams(Math.max(1, sounds), 'sound', 'pair') ?? []),
      ...(streams(data, 'data', 'data') ?? []),
    ],
  };
}
