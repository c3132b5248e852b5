import { inPrefix, type Prefix } from '../../../values/address.js';
import { isDocumentation, isLinkLocal, isLoopback, isPrivateUse, specialPurpose } from '../../hosts/index.js';
import { constantPrefix } from '../../../values/address-table.js';

/** Above it lies 233.252.0.0/14, which RFC 5771 §9.2 took out of GLOP: the groups of private AS numbers. */
const LAST_GLOP_AUTONOMOUS_SYSTEM = 64511;
const GLOP_FIRST_GROUP = 0xe9000000;
const GLOP_LAST_GROUP = 0xe9fbffff;
const UNICAST_PREFIX_BLOCK = constantPrefix('234.0.0.0/8');

/** The AS number in the middle octets of a GLOP group (RFC 3180 §3.1); undefined outside 233.0.0.0-233.251.255.255. */
export function glopAutonomousSystem(group: number): number | undefined {
  return group >= GLOP_FIRST_GROUP && group <= GLOP_LAST_GROUP ? (group >>> 8) & 0xffff : undefined;
}

/**
 * The /24 of groups an AS holds (RFC 3180 §3.1); undefined for a number that holds none: 32-bit numbers (§5), the
 * private ones from 64512 on (RFC 5771 §9.2), and 0, which nobody holds (RFC 7607).
 */
export function glopPrefix(autonomousSystem: number): Prefix | undefined {
  if (!Number.isInteger(autonomousSystem) || autonomousSystem < 1) return undefined;
  if (autonomousSystem > LAST_GLOP_AUTONOMOUS_SYSTEM) return undefined;
  const network = GLOP_FIRST_GROUP + autonomousSystem * 256;
  return { address: network, network, length: 24 };
}

/** AS numbers 64496-64511 and 65536-65551 (RFC 5398); the first sixteen have GLOP groups (RFC 6676 §2.2). */
export function isDocumentationAutonomousSystem(autonomousSystem: number): boolean {
  return (
    (autonomousSystem >= 64496 && autonomousSystem <= 64511) || (autonomousSystem >= 65536 && autonomousSystem <= 65551)
  );
}

/**
 * The unicast /24 whose holder owns a group of 234.0.0.0/8: the group shifted left by eight bits (RFC 6034 §3). The
 * holder's own prefix may be shorter. Undefined outside 234/8.
 */
export function embeddedUnicastPrefix(group: number): Prefix | undefined {
  if (!inPrefix(group, UNICAST_PREFIX_BLOCK)) return undefined;
  const network = (group << 8) >>> 0;
  return { address: network, network, length: 24 };
}

/**
 * Whether the holder of a unicast prefix owns a group of 234.0.0.0/8. A prefix longer than /24 brings no groups, and
 * one that is not global unicast cannot (RFC 6034 §3).
 */
export function ownsGroupByPrefix(held: Prefix, group: number): boolean {
  const embedded = embeddedUnicastPrefix(group);
  if (embedded === undefined || held.length > 24 || embeddedPrefixFault(group) !== undefined) return false;
  return inPrefix(embedded.network, held);
}

/** Why the prefix in a group of 234.0.0.0/8 can belong to nobody. */
export type EmbeddedPrefixFault = 'loopback' | 'multicast' | 'link-local' | 'private-use' | 'not-global';

/**
 * Why a group of 234.0.0.0/8 is necessarily invalid: its prefix must be global unicast (RFC 6034 §3). Documentation
 * prefixes pass: RFC 6034 §4 and RFC 6676 §2.3 make examples of them. Undefined when nothing is wrong, or outside
 * 234/8.
 */
export function embeddedPrefixFault(group: number): EmbeddedPrefixFault | undefined {
  const network = embeddedUnicastPrefix(group)?.network;
  if (typeof network !== 'number') return undefined;
  if (network >= 0xe0000000 && network <= 0xefffffff) return 'multicast';
  if (isLoopback(network)) return 'loopback';
  if (isLinkLocal(network)) return 'link-local';
  if (isPrivateUse(network)) return 'private-use';
  if (isDocumentation(network)) return undefined;
  return specialPurpose(network)?.globallyReachable === false ? 'not-global' : undefined;
}
