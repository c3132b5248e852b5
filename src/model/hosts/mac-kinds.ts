/** Kinds of MAC addresses that no station is born with. */
import type { Mac } from '../../values/mac.js';

/** I/G bit: the frame is for a group of stations (IEEE 802-2014 §8.2.2; RFC 9542 §2.1). */
export function isGroupMac(mac: Mac): boolean {
  return firstOctet(mac) % 2 === 1;
}

/** U/L bit: the address was made up locally, so it is unique in its own network at most (RFC 9542 §2.1). */
export function isLocalMac(mac: Mac): boolean {
  return Math.floor(firstOctet(mac) / 2) % 2 === 1;
}

/** 00-00-5E-00-01-xx and 00-00-5E-00-02-xx: the virtual router of VRRP (RFC 9568 §7.3). */
export function isVirtualRouterMac(mac: Mac): boolean {
  const block = Math.floor(mac / 256);
  return block === 0x00005e0001 || block === 0x00005e0002;
}

/** Why no interface can have a MAC; a virtual router's only a router can. */
export type UnusableMac = 'zero' | 'broadcast' | 'group' | 'group-ipv4' | 'group-ipv6' | 'virtual-router';

/** Undefined for MACs an interface can have. RFC 1112 §6.4 and RFC 2464 §7 give IP groups their first octets. */
export function unusableMac(mac: Mac): UnusableMac | undefined {
  if (mac === 0) return 'zero';
  if (mac === 0xffffffffffff) return 'broadcast';
  if (!isGroupMac(mac)) return isVirtualRouterMac(mac) ? 'virtual-router' : undefined;
  if (Math.floor(mac / 2 ** 23) === 0x01005e << 1) return 'group-ipv4';
  return Math.floor(mac / 2 ** 32) === 0x3333 ? 'group-ipv6' : 'group';
}

function firstOctet(mac: Mac): number {
  return Math.floor(mac / 2 ** 40);
}
