/** Numbers that are on a label already, read and told apart by what they fix. */
import { append } from '../collections/group-by.js';
import { parseAddress4 } from '../values/address.js';
import type { Demand, DeviceDemand, InterfaceDemand, NetworkDemand, StreamDemand, VlanDemand } from './demand.js';
import type { Refusal, RequestPath } from './refusal.js';

export interface FixedUnit {
  readonly unit: number;
  readonly at: RequestPath;
}

export interface FixedAddress {
  readonly device: DeviceDemand;
  readonly end: InterfaceDemand;
  readonly address: number;
  readonly at: RequestPath;
}

export interface FixedGroup {
  readonly device: DeviceDemand;
  readonly stream: StreamDemand;
  /** From 0. */
  readonly leg: number;
  readonly network: NetworkDemand;
  readonly group: number;
  readonly at: RequestPath;
}

export interface Fixed {
  readonly units: ReadonlyMap<DeviceDemand, FixedUnit>;
  readonly addresses: readonly FixedAddress[];
  readonly groups: readonly FixedGroup[];
}

/** Reads `fixed`; what it names has to be there. */
export function readFixed(demand: Demand): { readonly fixed: Fixed; readonly refusals: readonly Refusal[] } {
  const refusals: Refusal[] = [];
  const units = new Map<DeviceDemand, FixedUnit>();
  const addresses: FixedAddress[] = [];
  const groups: FixedGroup[] = [];
  (demand.request.fixed ?? []).forEach((raw, index) => {
    const path: RequestPath = ['fixed', index];
    const takeOut = { path, value: undefined, words: 'take this fixed number out' };
    const refuse = (what: string, key?: string): void => {
      refusals.push({ what, at: key === undefined ? path : [...path, key], changes: [takeOut] });
    };
    const device = demand.byName.get(raw.device);
    if (device === undefined) return;
    const { kind } = device.line;
    if (raw.unit !== undefined) {
      if (units.has(device)) refuse(`${device.name} has two fixed unit numbers`, 'unit');
      units.set(device, { unit: raw.unit, at: [...path, 'unit'] });
    }
    if (raw.address !== undefined) {
      const address = parseAddress4(raw.address);
      const end =
        raw.interface === undefined && kind.interfaces.length === 1
          ? kind.interfaces[0]
          : kind.interfaces.find((one) => one.raw.name === raw.interface);
      if (address === undefined) refuse(`\`${raw.address}\` is no IPv4 address`, 'address');
      else if (end === undefined)
        refuse(
          raw.interface === undefined
            ? `the fixed address of ${device.name} does not say which interface has it: ${kind.interfaces.map((one) => one.raw.name).join(', ')}`
            : `${device.name} has no interface \`${raw.interface}\``,
        );
      else addresses.push({ device, end, address, at: [...path, 'address'] });
    }
    if (raw.group !== undefined) {
      const group = parseAddress4(raw.group);
      const stream =
        raw.stream === undefined && kind.streams.length === 1
          ? kind.streams[0]
          : kind.streams.find((one) => one.raw.name === raw.stream);
      const leg = (raw.leg ?? 1) - 1;
      const network = stream?.legs[leg]?.network;
      if (group === undefined || group < 0xe0000000 || group > 0xefffffff)
        refuse(`\`${raw.group}\` is no IPv4 group`, 'group');
      else if (stream === undefined || network === undefined)
        refuse(
          stream === undefined
            ? `the fixed group of ${device.name} does not name one of its streams: ${kind.streams.map((one) => one.raw.name).join(', ')}`
            : `${stream.raw.name} of ${device.name} has no leg ${leg + 1} that is sent to a group`,
        );
      else groups.push({ device, stream, leg, network, group, at: [...path, 'group'] });
    }
  });
  return { fixed: { units, addresses, groups }, refusals };
}

/** Fixed addresses by VLAN, whose subnets have to hold them. */
export function addressAnchors({
  addresses,
}: Fixed): ReadonlyMap<VlanDemand, readonly { readonly address: number; readonly at: RequestPath }[]> {
  return grouped(addresses, ({ end }) => end.vlan);
}

/** Fixed groups by network, whose blocks have to hold them. */
export function groupAnchors({
  groups,
}: Fixed): ReadonlyMap<NetworkDemand, readonly { readonly group: number; readonly at: RequestPath }[]> {
  return grouped(groups, ({ network }) => network);
}

function grouped<K, V>(all: readonly V[], keyOf: (one: V) => K): ReadonlyMap<K, readonly V[]> {
  const found = new Map<K, V[]>();
  for (const one of all) {
    append(found, keyOf(one), one);
  }
  return found;
}
