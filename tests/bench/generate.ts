/**
 * Plans of any size that every rule finds clean: devices of one kind with four two-leg streams each, eight hundred to a
 * leaf switch, leaves tied to a core on each of two networks, every device taking the first stream of the next.
 */
import { writeFileSync } from 'node:fs';
import { dump } from 'js-yaml';

const STREAMS_PER_DEVICE = 4;
const DEVICES_PER_LEAF = 800;

/** `kinds`: equal devices written once, as people do. `spelled`: every fact at every device, as exports do. */
export type Shape = 'kinds' | 'spelled';

/** A clean plan with at least `streams` two-leg streams. */
export function generatePlan(streams: number, shape: Shape = 'kinds'): object {
  const devices = Math.ceil(streams / STREAMS_PER_DEVICE);
  const leaves = Math.ceil(devices / DEVICES_PER_LEAF);
  const sides = [
    { name: 'red', octet: 16, leg: 1 },
    { name: 'blue', octet: 144, leg: 2 },
  ] as const;
  return {
    rig: 'Generated',
    conventions: {
      groups: [
        { network: 'red', ranges: ['239.16.0.0/12'] },
        { network: 'blue', ranges: ['239.64.0.0/12'] },
      ],
      legMap: {
        groups: [{ first: '239.16.0.0/12', second: '239.64.0.0/12' }],
        sources: [{ first: '10.16.0.0/12', second: '10.144.0.0/12' }],
        portOffset: 0,
      },
    },
    networks: sides.map(({ name, leg }) => ({ name, role: 'media', leg })),
    vlans: sides.flatMap(({ name, octet, leg }) =>
      range(leaves, (leaf) => ({
        name: `${name}-${leaf + 1}`,
        id: leg * 1000 + leaf,
        network: name,
        subnet: `${address(octet, leaf * 1024)}/22`,
        gateway: address(octet, leaf * 1024 + 1),
        igmp: {
          snooping: true,
          version: 3,
          querier: [
            { on: `${name}-core`, address: address(octet, leaf * 1024 + 2) },
            { on: `${name}-leaf-${leaf + 1}`, address: address(octet, leaf * 1024 + 3) },
          ],
          unregistered: 'drop',
        },
        routing: { mode: 'pim-sm', routers: [`${name}-core`], rp: [{ address: address(octet, 1) }] },
      })),
    ),
    switches: sides.flatMap(({ name, octet }) => [
      {
        name: `${name}-core`,
        ports: range(leaves, (leaf) => ({ name: `to-${leaf + 1}`, rate: '100G', trunk: [`${name}-${leaf + 1}`] })),
        addresses: range(leaves, (leaf) =>
          [1, 2].map((host) => ({ vlan: `${name}-${leaf + 1}`, address: `${address(octet, leaf * 1024 + host)}/22` })),
        ).flat(),
        snoopingKey: 'group',
      },
      ...range(leaves, (leaf) => ({
        name: `${name}-leaf-${leaf + 1}`,
        ports: [
          { name: `1-${DEVICES_PER_LEAF}`, rate: '25G', access: `${name}-${leaf + 1}` },
          { name: 'uplink', rate: '100G', trunk: [`${name}-${leaf + 1}`] },
        ],
        snoopingKey: 'group',
      })),
    ]),
    links: sides.flatMap(({ name }) =>
      range(leaves, (leaf) => ({
        ends: [`${name}-core/to-${leaf + 1}`, `${name}-leaf-${leaf + 1}/uplink`],
        rate: '100G',
      })),
    ),
    // Sound, so that an uplink of 100 Gbit/s holds what 800 devices send towards the querier.
    formats: [
      { name: 'stereo', coding: 'st2110-30', channels: 2, sampleRate: 48000, sampleBits: 24, packetTime: '1 ms' },
    ],
    kinds:
      shape === 'spelled'
        ? []
        : [
            {
              name: 'gateway',
              interfaces: sides.map(({ name }) => ({ name, rate: '25G' })),
              senders: range(STREAMS_PER_DEVICE, (index) => ({
                name: `sound-${index + 1}`,
                format: 'stereo',
                legs: sides.map(({ name }) => ({ interface: name, ...LEG })),
              })),
            },
          ],
    devices: range(devices, (device) => {
      const leaf = Math.floor(device / DEVICES_PER_LEAF);
      const host = device % DEVICES_PER_LEAF;
      return {
        name: `gateway-${device + 1}`,
        ...(shape === 'kinds' ? { kind: 'gateway' } : {}),
        interfaces: sides.map(({ name, octet, leg }) => ({
          name,
          ...(shape === 'spelled' ? { rate: '25G' } : {}),
          vlan: `${name}-${leaf + 1}`,
          address: `${address(octet, leaf * 1024 + 10 + host)}/22`,
          mac: `02:0${leg}:${hex(device >>> 16)}:${hex(device >>> 8)}:${hex(device)}:01`,
          port: `${name}-leaf-${leaf + 1}/${host + 1}`,
        })),
        senders: range(STREAMS_PER_DEVICE, (index) => {
          const number = device * STREAMS_PER_DEVICE + index;
          const groups = [group(16, number), group(64, number)] as const;
          if (shape === 'kinds') return { name: `sound-${index + 1}`, legs: groups.map((one) => ({ group: one })) };
          return {
            name: `sound-${index + 1}`,
            format: 'stereo',
            legs: sides.map(({ name, octet }, side) => ({
              interface: name,
              group: groups[side],
              source: address(octet, leaf * 1024 + 10 + host),
              ...LEG,
            })),
          };
        }),
        receivers: [
          { name: 'return', takes: `gateway-${((device + 1) % devices) + 1}/sound-1`, interfaces: ['red', 'blue'] },
        ],
      };
    }),
  };
}

/** What every leg states besides its own numbers. */
const LEG = { port: 5004, payloadType: 96, ttl: 32, dscp: 34 };

/** Writes the plan as JSON, compact as exports are, and as YAML. */
export function writePlan(streams: number, shape: Shape, jsonPath: string, yamlPath: string | undefined): void {
  const plan = generatePlan(streams, shape);
  writeFileSync(jsonPath, JSON.stringify(plan));
  if (yamlPath !== undefined) writeFileSync(yamlPath, dump(plan, { noRefs: true }));
}

function range<T>(count: number, make: (index: number) => T): readonly T[] {
  return Array.from({ length: count }, (_, index) => make(index));
}

/** `10.octet.0.0` plus an offset. */
function address(octet: number, offset: number): string {
  return `10.${octet + (offset >>> 16)}.${(offset >>> 8) & 255}.${offset & 255}`;
}

function group(octet: number, offset: number): string {
  return `239.${octet + (offset >>> 16)}.${(offset >>> 8) & 255}.${offset & 255}`;
}

function hex(value: number): string {
  return (value & 255).toString(16).padStart(2, '0');
}
