/** The plan as a tree, in the shape of `schemas/plan.schema.json`. */
import { portNames } from '../plan/port-names.js';
import type { Essence } from '../plan/types.js';
import type {
  RawDevice,
  RawConventions,
  RawInterface,
  RawLink,
  RawNumbering,
  RawPlan,
  RawSender,
  RawSwitch,
  RawSwitchPort,
  RawVlan,
} from '../read/raw-plan.js';
import { formatAddress } from '../values/address.js';
import type { Assignment } from './assignment.js';
import { planClocks } from './clocks.js';
import type { Demand, DeviceDemand, KindDemand, NetworkDemand, SwitchDemand, VlanDemand } from './demand.js';
import { isSecond } from './demand.js';
import type { GroupBlocks } from './group-blocks.js';
import type { Block } from './kept.js';
import type { Layout } from './layout.js';
import type { Patching } from './patch.js';
import type { HostNumbering } from './pattern.js';
import type { Reserved } from './reserve.js';
import type { Subnets } from './subnets.js';

export interface Decided {
  readonly demand: Demand;
  readonly hosts: HostNumbering;
  readonly layout: Layout;
  readonly groups: GroupBlocks;
  readonly subnets: Subnets;
  readonly ids: ReadonlyMap<VlanDemand, number>;
  readonly reserved: ReadonlyMap<VlanDemand, Reserved>;
  readonly assignment: Assignment;
  readonly patching: Patching;
  /** Blocks an earlier plan has for lines that the request no longer has. */
  readonly goneBlocks: readonly {
    readonly devices: string;
    readonly area?: string;
    readonly first: number;
    readonly last: number;
  }[];
}

/** Even, as RTP asks (RFC 3550 §11), and the port AES67-2018 §8.1 takes where nothing else is said. */
const UDP_PORT = 5004;
/** Dynamic payload types (RFC 3551 §6); which is which is common practice, no source. */
const PAYLOAD_TYPES: Readonly<Record<Essence, number>> = { video: 96, audio: 97, data: 98 };
/** AF41, as AES67-2018 §6.2 has media. */
const DSCP = 34;
/** Far more routers than a rig has; common practice, no source. */
const TTL = 64;
/** Largest IP packet of plain Ethernet (RFC 894). */
const MTU = 1500;

/** Everything decided, written down. Equal decisions give equal trees. */
export function buildPlan(decided: Decided): RawPlan & { readonly rigproof: 1; readonly about?: string } {
  const { demand } = decided;
  const { request } = demand;
  const conventions = conventionsOf(decided);
  const clocks = planClocks(demand);
  const usedKinds = demand.kinds;
  const usedFormats = new Set(
    usedKinds.flatMap(({ raw }) =>
      [...(raw.senders ?? []), ...(raw.receivers ?? [])].flatMap(({ format }) =>
        typeof format === 'string' ? [format] : [],
      ),
    ),
  );
  const formats = (request.formats ?? []).filter(({ name }) => usedFormats.has(name));
  const switches = demand.switches.map((one) => switchOf(one, decided, clocks.switchPtp(one)));
  const links = demand.switches.flatMap(linkOf);
  return {
    rigproof: 1,
    rig: request.rig,
    ...(request.about === undefined ? {} : { about: request.about }),
    ...(request.practice === undefined ? {} : { practice: request.practice }),
    ...(Object.keys(conventions).length === 0 ? {} : { conventions }),
    networks: demand.networks.map(({ raw: { name, role, leg, about } }) => ({
      name,
      ...(role === undefined ? {} : { role }),
      ...(leg === undefined ? {} : { leg }),
      ...(about === undefined ? {} : { about }),
    })),
    vlans: demand.networks.flatMap(({ vlans }) => vlans.map((vlan) => vlanOf(vlan, decided))),
    ...(switches.length === 0 ? {} : { switches }),
    ...(links.length === 0 ? {} : { links }),
    ...(formats.length === 0 ? {} : { formats }),
    kinds: usedKinds.map((kind) => kindOf(kind, decided, clocks.kindPtp(kind))),
    devices: demand.devices.map((device) => deviceOf(device, decided, clocks.devicePtp(device))),
    ...(clocks.timing === undefined ? {} : { timing: clocks.timing }),
    numbering: numberingOf(decided),
  };
}

function conventionsOf({ demand, groups, subnets }: Decided): RawConventions {
  const ranges = demand.networks.flatMap((network) => {
    const block = groups.blocks.get(network);
    return block === undefined ? [] : [{ network: network.raw.name, ranges: [textOf(block)] }];
  });
  const map = (blocks: ReadonlyMap<NetworkDemand, Block>): { readonly first: string; readonly second: string }[] =>
    demand.networks.flatMap((network) => {
      const first = blocks.get(network);
      const second = network.twin === undefined ? undefined : blocks.get(network.twin);
      if (isSecond(network) || first === undefined || second === undefined) return [];
      const length = Math.max(first.length, second.length);
      return [{ first: textOf({ ...first, length }), second: textOf({ ...second, length }) }];
    });
  const mirrored = { groups: map(groups.blocks), sources: map(subnets.blocks) };
  return {
    ...(ranges.length === 0 ? {} : { groups: ranges }),
    ...(mirrored.groups.length === 0 ? {} : { legMap: { ...mirrored, portOffset: 0 } }),
  };
}

function vlanOf(vlan: VlanDemand, { subnets, ids, reserved, demand }: Decided): RawVlan & { readonly about?: string } {
  const subnet = subnets.subnets.get(vlan) ?? { first: 0, length: 32, dhcp: undefined };
  const own = reserved.get(vlan);
  const address = (number: number): string => formatAddress(subnet.first + number);
  const queriers =
    own === undefined
      ? []
      : vlan.network.switches.length === 0
        ? own.queriers.map((number) => ({ address: address(number) }))
        : vlan.network.switches
            .slice(0, 2)
            .map((one) => ({ on: one.raw.name, address: address(own.switches.get(one) ?? 0) }));
  const { igmpVersion = 3 } = demand.request.practice ?? {};
  return {
    name: vlan.name,
    id: ids.get(vlan) ?? 0,
    network: vlan.network.raw.name,
    ...(vlan.about === undefined ? {} : { about: vlan.about }),
    subnet: textOf(subnet),
    gateway: address(own?.gateway ?? 1),
    mtu: MTU,
    ...(subnet.dhcp === undefined ? {} : { dhcp: `${address(subnet.dhcp.first)}-${address(subnet.dhcp.last)}` }),
    igmp: { snooping: true, version: igmpVersion, querier: queriers, unregistered: 'drop', fastLeave: false },
    routing: { mode: 'none' },
  };
}

function switchOf(
  one: SwitchDemand,
  { subnets, reserved, patching, demand }: Decided,
  ptp: RawSwitch['ptp'],
): RawSwitch & { readonly area?: string } {
  const { raw, network } = one;
  const trunk = network.vlans.map(({ name }) => name);
  const uplinkRate = raw.uplinkRate ?? raw.rate;
  const trunkPort = (name: string, rate: string | undefined): RawSwitchPort => ({
    name,
    ...(rate === undefined ? {} : { rate }),
    trunk,
  });
  const below = demand.switches.filter(({ uplink }) => uplink === one);
  return {
    name: raw.name,
    ...(raw.area === undefined ? {} : { area: raw.area }),
    unregistered: 'drop',
    mtu: MTU,
    ports: [
      ...accessPorts(one, patching),
      ...below.map((other) => trunkPort(portTo(other), other.raw.uplinkRate ?? other.raw.rate ?? uplinkRate)),
      ...(one.uplink === undefined ? [] : [trunkPort('uplink', uplinkRate ?? one.uplink.raw.rate)]),
    ],
    addresses: network.vlans.flatMap((vlan) => {
      const subnet = subnets.subnets.get(vlan);
      const number = reserved.get(vlan)?.switches.get(one);
      return subnet === undefined || number === undefined
        ? []
        : [{ vlan: vlan.name, address: `${formatAddress(subnet.first + number)}/${subnet.length}` }];
    }),
    ...(ptp === undefined ? {} : { ptp }),
  };
}

/** A plan reads `to-rack-9-2` as a range of ports: such a name must not end in its number. */
function portTo({ raw }: SwitchDemand): string {
  const name = `to-${raw.name}`;
  return portNames(name)?.[0] === name ? name : `${name}-link`;
}

/** Equal ports that follow on each other as one range. */
function accessPorts(one: SwitchDemand, { plugs }: Patching): readonly RawSwitchPort[] {
  const { raw } = one;
  const own = plugs.get(one);
  const runs: { first: number; last: number; rate: string | undefined; access: string | undefined }[] = [];
  for (let number = 1; number <= raw.ports; number++) {
    const plug = own?.get(number);
    const rate = plug?.end.raw.rate ?? raw.rate;
    const access = plug?.end.vlan.name;
    const run = runs.at(-1);
    if (run !== undefined && run.rate === rate && run.access === access) run.last = number;
    else runs.push({ first: number, last: number, rate, access });
  }
  return runs.map(({ first, last, rate, access }) => ({
    name: first === last ? first : `${first}-${last}`,
    ...(rate === undefined ? {} : { rate }),
    ...(access === undefined ? { about: 'Free.' } : { access }),
  }));
}

function linkOf(one: SwitchDemand): readonly RawLink[] {
  const { raw, uplink } = one;
  if (uplink === undefined) return [];
  const rate = raw.uplinkRate ?? raw.rate ?? uplink.raw.rate;
  return [
    {
      ends: [`${uplink.raw.name}/${portTo(one)}`, `${raw.name}/uplink`],
      ...(rate === undefined ? {} : { rate }),
    },
  ];
}

function kindOf(kind: KindDemand, { demand }: Decided, ptp: RawDevice['ptp']): RawDevice {
  const { receivers } = kind.raw;
  const rest = without(kind.raw, ['interfaces', 'senders', 'receivers', 'ptp']);
  const dscp: Readonly<Record<string, number>> = demand.request.practice?.dscp ?? {};
  const senders = kind.streams.map(({ raw, essence, legs }): RawSender => ({
    ...raw,
    legs: legs.map((leg) => ({
      ...leg.raw,
      port: leg.raw.port ?? UDP_PORT,
      ...(leg.raw.payloadType === undefined && essence === undefined
        ? {}
        : { payloadType: leg.raw.payloadType ?? PAYLOAD_TYPES[essence ?? 'data'] }),
      ttl: leg.raw.ttl ?? TTL,
      dscp: leg.raw.dscp ?? dscp[essence ?? 'data'] ?? DSCP,
    })),
  }));
  return {
    ...rest,
    ...(ptp === undefined ? {} : { ptp }),
    ...(kind.interfaces.length === 0 ? {} : { interfaces: kind.interfaces.map(interfaceOf) }),
    ...(senders.length === 0 ? {} : { senders }),
    ...(receivers === undefined ? {} : { receivers }),
  };
}

function interfaceOf({ raw, vlan }: KindDemand['interfaces'][number]): RawInterface {
  return { name: raw.name, vlan: vlan.name, ...without(raw, ['name', 'network', 'vlan']) };
}

/** An entry but for some of its keys. */
function without<T extends object, K extends keyof T>(entry: T, keys: readonly K[]): Omit<T, K> {
  const left = new Set<PropertyKey>(keys);
  return Object.fromEntries(Object.entries(entry).filter(([key]) => !left.has(key))) as Omit<T, K>;
}

function deviceOf(device: DeviceDemand, { assignment, subnets, patching }: Decided, ptp: RawDevice['ptp']): RawDevice {
  const { line, name } = device;
  const { kind } = line;
  const numbers = assignment.numbers.get(device);
  const ports = patching.ports.get(device);
  const interfaces = kind.interfaces.flatMap(({ raw, vlan }): readonly RawInterface[] => {
    const address = numbers?.addresses.get(raw.name);
    const port = ports?.get(raw.name);
    const length = subnets.subnets.get(vlan)?.length ?? 32;
    if (address === undefined && port === undefined) return [];
    return [
      {
        name: raw.name,
        ...(address === undefined ? {} : { address: `${formatAddress(address)}/${length}` }),
        ...(port === undefined ? {} : { port }),
      },
    ];
  });
  const senders = kind.streams.flatMap((stream): readonly RawSender[] => {
    const groups = numbers?.groups.get(stream);
    return groups === undefined
      ? []
      : [
          {
            name: stream.raw.name,
            legs: groups.map((group) => (group === undefined ? {} : { group: formatAddress(group) })),
          },
        ];
  });
  const receivers = Object.entries(line.raw.takes ?? {}).map(([receiver, takes]) => ({ name: receiver, takes }));
  return {
    name,
    kind: kind.raw.name,
    ...(line.raw.area === undefined ? {} : { area: line.raw.area }),
    ...(ptp === undefined ? {} : { ptp }),
    ...(interfaces.length === 0 ? {} : { interfaces }),
    ...(senders.length === 0 ? {} : { senders }),
    ...(receivers.length === 0 ? {} : { receivers }),
  };
}

function numberingOf({ demand, groups, hosts, subnets, layout, assignment, goneBlocks }: Decided): RawNumbering {
  const areas = (demand.request.areas ?? []).map(({ name }) => name);
  return {
    ...(groups.blocks.size === 0 ? {} : { groups: groups.pattern.fields, streams: groups.pattern.streams }),
    hosts,
    networks: demand.networks.map((network) => {
      const addresses = subnets.blocks.get(network);
      const own = groups.blocks.get(network);
      return {
        network: network.raw.name,
        ...(addresses === undefined ? {} : { addresses: textOf(addresses) }),
        ...(own === undefined ? {} : { groups: textOf(own) }),
      };
    }),
    ...(areas.length === 0 ? {} : { areas }),
    blocks: [
      ...demand.lines.flatMap((line) =>
        (layout.blocks.get(line) ?? []).map(({ first, last }) => ({
          devices: line.raw.name,
          ...(line.raw.area === undefined ? {} : { area: line.raw.area }),
          units: `${first}-${last}`,
        })),
      ),
      ...goneBlocks.map(({ devices, area, first, last }) => ({
        devices,
        ...(area === undefined ? {} : { area }),
        units: `${first}-${last}`,
      })),
    ],
    ...(assignment.held.length === 0
      ? {}
      : {
          held: assignment.held.map(({ device, unit, addresses, ports }) => ({
            device,
            unit,
            ...(hosts === 'unit' ? {} : { addresses: addresses.map(formatAddress) }),
            ...(ports.size === 0 ? {} : { ports: [...ports].map(([via, port]) => ({ interface: via, port })) }),
          })),
        }),
  };
}

/** A block with its prefix length. */
export function textOf({ first, length }: Block): string {
  return `${formatAddress(first)}/${length}`;
}
