/** The numbers of an earlier allocation, read from its plan. */
import type { RawNumbering, RawPlan } from '../read/raw-plan.js';
import { parseAddress4, parsePrefix, parseRange } from '../values/address.js';
import { decode, patternOf, type HostNumbering, type Pattern } from './pattern.js';

/** A block of IPv4 addresses or groups. */
export interface Block {
  readonly first: number;
  readonly length: number;
}

export interface KeptVlan {
  readonly id: number | undefined;
  readonly subnet: Block | undefined;
  readonly dhcp: { readonly first: number; readonly last: number } | undefined;
}

export interface KeptDevice {
  readonly unit: number | undefined;
  /** By interface. */
  readonly addresses: ReadonlyMap<string, number>;
  readonly ports: ReadonlyMap<string, string>;
  /** By stream, then by leg. */
  readonly groups: ReadonlyMap<string, readonly (number | undefined)[]>;
  readonly kind: string | undefined;
}

export interface Kept {
  readonly pattern: Pattern | undefined;
  readonly hosts: HostNumbering;
  readonly addressBlocks: ReadonlyMap<string, Block>;
  readonly groupBlocks: ReadonlyMap<string, Block>;
  readonly vlans: ReadonlyMap<string, KeptVlan>;
  readonly devices: ReadonlyMap<string, KeptDevice>;
  /** Devices that are away: their unit, their addresses where that does not tell them, and where they were plugged. */
  readonly held: ReadonlyMap<
    string,
    {
      readonly unit: number;
      readonly addresses: readonly number[];
      /** By interface. */
      readonly ports: ReadonlyMap<string, string>;
    }
  >;
  readonly blocks: readonly {
    readonly devices: string;
    readonly area?: string;
    readonly first: number;
    readonly last: number;
  }[];
  /** Addresses of switches, by switch and VLAN. */
  readonly switches: ReadonlyMap<string, ReadonlyMap<string, number>>;
  /** Number of each stream of a kind, by kind and stream. */
  readonly streams: ReadonlyMap<string, ReadonlyMap<string, number>>;
}

/** Undefined when none of the trees says how its numbers were made up: it was not allocated. */
export function readKept(trees: readonly RawPlan[]): Kept | undefined {
  const numbering = trees.find((tree) => tree.numbering !== undefined)?.numbering;
  if (numbering === undefined) return undefined;
  const pattern = patternOf(numbering);
  const groupBlocks = blocksOf(numbering, 'groups');
  const vlans = new Map<string, KeptVlan>();
  for (const vlan of trees.flatMap((tree) => tree.vlans ?? [])) {
    const dhcp = vlan.dhcp === undefined ? undefined : parseRange(vlan.dhcp);
    vlans.set(vlan.name, {
      id: vlan.id,
      subnet: blockOf(vlan.subnet),
      dhcp: dhcp === undefined ? undefined : { first: Number(dhcp.first), last: Number(dhcp.last) },
    });
  }
  const subnets = [...vlans.values()].flatMap(({ subnet }) => subnet ?? []);
  const ranges = [...groupBlocks.values()];
  const unitOf = (group: number): { readonly unit: number; readonly stream: number } | undefined => {
    const block = ranges.find(({ first, length }) => group >= first && group < first + 2 ** (32 - length));
    return block === undefined || pattern === undefined ? undefined : decode(pattern, group - block.first);
  };
  const devices = new Map<string, KeptDevice>();
  const streams = new Map<string, Map<string, number>>();
  for (const raw of trees.flatMap((tree) => tree.devices ?? [])) {
    const { kind } = raw;
    const addresses = new Map<string, number>();
    const ports = new Map<string, string>();
    for (const one of raw.interfaces ?? []) {
      const address = one.address === undefined ? undefined : parseAddress4(one.address.replace(/\/.*/, ''));
      if (address !== undefined) addresses.set(one.name, address);
      if (one.port !== undefined) ports.set(one.name, one.port);
    }
    const groups = new Map<string, readonly (number | undefined)[]>();
    const votes = new Map<number, number>();
    if (numbering.hosts !== 'place')
      for (const address of addresses.values()) {
        const subnet = subnets.find(({ first, length }) => address >= first && address < first + sizeOf(length));
        if (subnet !== undefined) votes.set(address - subnet.first, (votes.get(address - subnet.first) ?? 0) + 1);
      }
    for (const sender of raw.senders ?? []) {
      const legs = (sender.legs ?? []).map(({ group }) => (group === undefined ? undefined : parseAddress4(group)));
      groups.set(sender.name, legs);
      const read = legs.flatMap((group) => (group === undefined ? [] : (unitOf(group) ?? [])));
      for (const { unit } of read) votes.set(unit, (votes.get(unit) ?? 0) + 1);
      const [first] = read;
      if (first === undefined || kind === undefined) continue;
      const own = streams.get(kind) ?? new Map<string, number>();
      streams.set(kind, own);
      if (!own.has(sender.name)) own.set(sender.name, first.stream);
    }
    const voted = [...votes].sort((a, b) => b[1] - a[1])[0]?.[0];
    devices.set(raw.name, { unit: voted, addresses, ports, groups, kind });
  }
  const switches = new Map(
    trees
      .flatMap((tree) => tree.switches ?? [])
      .map((one) => [
        one.name,
        new Map(
          (one.addresses ?? []).flatMap(({ vlan, address }) => {
            const value = parseAddress4(address.replace(/\/.*/, ''));
            return vlan === undefined || value === undefined ? [] : [[vlan, value] as const];
          }),
        ),
      ]),
  );
  return {
    pattern,
    hosts: numbering.hosts ?? 'unit',
    addressBlocks: blocksOf(numbering, 'addresses'),
    groupBlocks,
    vlans,
    devices,
    held: new Map(
      (numbering.held ?? []).map(({ device, unit, addresses = [], ports = [] }) => [
        device,
        {
          unit,
          addresses: addresses.flatMap((text) => parseAddress4(text) ?? []),
          ports: new Map(ports.map((one) => [one.interface, one.port])),
        },
      ]),
    ),
    blocks: (numbering.blocks ?? []).map(({ units, ...rest }) => {
      const [first = 0, last = first] = units.split('-').map(Number);
      return { ...rest, first, last };
    }),
    switches,
    streams,
  };
}

/** A prefix as numbers; undefined for anything but IPv4. */
export function blockOf(text: string | undefined): Block | undefined {
  const prefix = text === undefined ? undefined : parsePrefix(text);
  return prefix === undefined || typeof prefix.network !== 'number'
    ? undefined
    : { first: prefix.network, length: prefix.length };
}

export function sizeOf(length: number): number {
  return 2 ** (32 - length);
}

function blocksOf(numbering: RawNumbering, key: 'addresses' | 'groups'): ReadonlyMap<string, Block> {
  return new Map(
    (numbering.networks ?? []).flatMap((one) => {
      const block = blockOf(one[key]);
      return block === undefined ? [] : [[one.network, block] as const];
    }),
  );
}
