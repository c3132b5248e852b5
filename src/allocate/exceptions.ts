/** Numbers that are fixed and not what the pattern makes of a unit. */
import { formatAddress } from '../values/address.js';
import { LOW_23 } from './clear.js';
import type { DeviceDemand, StreamDemand } from './demand.js';
import { sizeOf } from './kept.js';
import { encode, largest } from './pattern.js';
import type { Refusal, RequestPath } from './refusal.js';
import type { AssignContext } from './assignment.js';

export interface Exceptions {
  readonly refusals: readonly Refusal[];
  /** Units that fixed addresses amount to. */
  readonly units: readonly (readonly [DeviceDemand, { readonly unit: number; readonly at: RequestPath }])[];
  /** Addresses that are not what the unit makes them, by device and interface. */
  readonly addresses: ReadonlyMap<DeviceDemand, ReadonlyMap<string, number>>;
  readonly takenAddresses: ReadonlyMap<number, DeviceDemand>;
  /** Groups that are not what the unit makes them, by device and stream. */
  readonly groups: ReadonlyMap<DeviceDemand, ReadonlyMap<StreamDemand, readonly (number | undefined)[]>>;
  readonly takenGroups: ReadonlyMap<number, DeviceDemand>;
}

/** Fixed addresses and groups with their mirrors on the other leg. */
export function readExceptions(context: AssignContext): Exceptions {
  const { fixed, subnets, clear, layout, groups, hosts, reserved } = context;
  const refusals: Refusal[] = [];
  const units: (readonly [DeviceDemand, { readonly unit: number; readonly at: RequestPath }])[] = [];
  const addresses = new Map<DeviceDemand, Map<string, number>>();
  const takenAddresses = new Map<number, DeviceDemand>();
  const made = new Set(fixed.units.keys());
  for (const { device, end, address, at } of fixed.addresses) {
    const subnet = subnets.subnets.get(end.vlan);
    const number = address - (subnet?.first ?? 0);
    const fault =
      subnet === undefined || number < 0 || number >= sizeOf(subnet.length)
        ? `it is not in the subnet of VLAN ${end.vlan.name}`
        : number === 0 || number === sizeOf(subnet.length) - 1
          ? `it is the ${number === 0 ? 'network' : 'broadcast'} address of its subnet`
          : subnet.dhcp !== undefined && number >= subnet.dhcp.first && number <= subnet.dhcp.last
            ? 'DHCP hands it out'
            : reserved.get(end.vlan)?.has(number) === true
              ? 'a switch or the gateway has it'
              : clear.addresses.has(address)
                ? 'it is to be kept clear of'
                : takenAddresses.has(address)
                  ? `${takenAddresses.get(address)?.name ?? ''} has it`
                  : end.raw.dhcp === true
                    ? 'the interface takes its address from DHCP'
                    : undefined;
    if (fault !== undefined) {
      refusals.push({
        what: `${device.name} can't have ${formatAddress(address)}: ${fault}`,
        at,
        changes: [{ path: at.slice(0, 2), value: undefined, words: 'take this fixed number out' }],
      });
      continue;
    }
    if (hosts === 'unit' && !made.has(device) && number >= layout.firstUnit && number <= layout.last) {
      made.add(device);
      units.push([device, { unit: number, at }]);
      continue;
    }
    const own = addresses.get(device) ?? new Map<string, number>();
    addresses.set(device, own);
    for (const other of device.line.kind.interfaces) {
      if (other !== end && other.vlan !== end.vlan.twin) continue;
      const mirror = (subnets.subnets.get(other.vlan)?.first ?? 0) + number;
      own.set(other.raw.name, mirror);
      takenAddresses.set(mirror, device);
    }
  }
  const exceptional = new Map<DeviceDemand, Map<StreamDemand, readonly (number | undefined)[]>>();
  const takenGroups = new Map<number, DeviceDemand>();
  for (const { device, stream, network, group, at } of fixed.groups) {
    const block = groups.blocks.get(network);
    const offset = group - (block?.first ?? 0);
    const fault =
      block === undefined || offset < 0 || offset >= sizeOf(block.length)
        ? `it is not in the block of network ${network.raw.name}${block === undefined ? '' : ` (${formatAddress(block.first)}/${block.length})`}`
        : !clear.usable(group)
          ? 'switches flood it, a protocol owns it, or the practice does not allow it'
          : clear.groups.meets(group % LOW_23, group % LOW_23) !== undefined
            ? 'somebody to be kept clear of uses it or one with the same multicast MAC'
            : takenGroups.has(group % LOW_23)
              ? `${takenGroups.get(group % LOW_23)?.name ?? ''} has it`
              : undefined;
    if (fault !== undefined) {
      refusals.push({
        what: `${stream.raw.name} of ${device.name} can't have ${formatAddress(group)}: ${fault}`,
        at,
        changes: [{ path: at.slice(0, 2), value: undefined, words: 'take this fixed number out' }],
      });
      continue;
    }
    const legs = stream.legs.map((leg) => {
      const own = leg.network === undefined ? undefined : groups.blocks.get(leg.network);
      return own === undefined ? undefined : own.first + offset;
    });
    for (const one of legs) if (one !== undefined) takenGroups.set(one % LOW_23, device);
    const own = exceptional.get(device) ?? new Map<StreamDemand, readonly (number | undefined)[]>();
    exceptional.set(device, own);
    own.set(stream, legs);
  }
  return { refusals, units, addresses, takenAddresses, groups: exceptional, takenGroups };
}

/** Why a device can't have a unit number, told by the first of its numbers that is in the way. */
export function faultOf(
  device: DeviceDemand,
  unit: number,
  context: AssignContext,
  exceptions: Exceptions,
): string | undefined {
  const { layout, subnets, clear, hosts, groups, streams } = context;
  const { kind, area } = device.line;
  if (unit < layout.firstUnit) return `numbers below ${layout.firstUnit} are for gateways and switches`;
  if (hosts === 'unit') {
    for (const { raw, vlan } of kind.interfaces) {
      if (raw.dhcp === true || exceptions.addresses.get(device)?.has(raw.name) === true) continue;
      const subnet = subnets.subnets.get(vlan);
      if (subnet === undefined) continue;
      const { dhcp } = subnet;
      const address = subnet.first + unit;
      if (unit > sizeOf(subnet.length) - 2 || (dhcp !== undefined && unit >= dhcp.first && unit <= dhcp.last))
        return `VLAN ${vlan.name} has no host ${unit}`;
      if (clear.addresses.has(address)) return `${formatAddress(address)} is to be kept clear of`;
      const other = exceptions.takenAddresses.get(address);
      if (other !== undefined && other !== device) return `${other.name} has ${formatAddress(address)}`;
    }
  }
  const { pattern, blocks } = groups;
  if (kind.streams.length > 0 && blocks.size > 0 && unit > largest(pattern, 'unit'))
    return `groups have unit numbers up to ${largest(pattern, 'unit')}`;
  for (const stream of kind.streams) {
    const number = streams.get(stream);
    if (number === undefined || exceptions.groups.get(device)?.has(stream) === true) continue;
    const offset = encode(pattern, { area: area + 1, unit, stream: number });
    for (const { network } of stream.legs) {
      const block = network === undefined ? undefined : blocks.get(network);
      if (block === undefined) continue;
      const group = block.first + offset;
      const low = group % LOW_23;
      if (!clear.usable(group)) return `${formatAddress(group)} is no group for streams`;
      if (clear.groups.meets(low, low) !== undefined) return `${formatAddress(group)} is to be kept clear of`;
      const other = exceptions.takenGroups.get(low);
      if (other !== undefined) return `${other.name} has ${formatAddress(group)}`;
    }
  }
  return undefined;
}
