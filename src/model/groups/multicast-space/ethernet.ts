import type { Address } from '../../../values/address.js';
import type { Mac } from '../../../values/mac.js';
import { ASSIGNED_GROUPS_4, type AssignedGroup } from './assigned4.js';

/** 01-00-5E-00-00-00, into which the low-order 23 bits of the group go (RFC 1112 §6.4). */
const IPV4_GROUP_MAC = 0x01005e000000;
const LOW_23_BITS = 0x7fffff;
/** 33-33, in front of the low-order 32 bits of the group (RFC 2464 §7). */
const IPV6_GROUP_MAC = 0x333300000000;
const ALL_NODES_6_MAC = 0x333300000001;

/** The multicast MAC a group is sent to: RFC 1112 §6.4 for IPv4, RFC 2464 §7 for IPv6. */
export function ethernetAddress(group: Address): Mac {
  if (typeof group === 'number') return IPV4_GROUP_MAC + (group & LOW_23_BITS);
  return IPV6_GROUP_MAC + Number(BigInt.asUintN(32, group));
}

/**
 * Whether a group shares a multicast MAC that switches flood to every port: 01:00:5e:00:00:xx of 224.0.0.0/24
 * (RFC 4541 §2.1.2 rule 2; that switches decide by the multicast MAC is the answer of most vendors in its §4), and
 * for IPv6 that of ff02::1 (RFC 4541 §3).
 */
export function floodedEthernetAddress(group: Address): boolean {
  if (typeof group === 'number') return (group & 0x7fff00) === 0;
  return ethernetAddress(group) === ALL_NODES_6_MAC;
}

/** The 32 IPv4 groups of one multicast MAC, the given one among them, in address order (RFC 1112 §6.4). */
export function ethernetAliases4(group: number): readonly number[] {
  return Array.from({ length: 32 }, (_, high) => (0xe0000000 | (high << 23) | (group & LOW_23_BITS)) >>> 0);
}

/**
 * The clock group (PTP or NTP) whose multicast MAC an IPv4 group shares without being it: every clock on the segment
 * hears such a stream, and MAC tables cannot tell it from the clock's messages (follows from RFC 1112 §6.4).
 */
export function aliasedClockGroup(group: number): AssignedGroup | undefined {
  const clock = CLOCK_GROUPS.get(group & LOW_23_BITS);
  return clock === undefined || clock.group === group ? undefined : clock;
}

const CLOCK_GROUPS: ReadonlyMap<number, AssignedGroup> = new Map(
  ASSIGNED_GROUPS_4.filter(({ protocol }) => protocol === 'PTP' || protocol === 'NTP').map((one) => [
    one.group & LOW_23_BITS,
    one,
  ]),
);
