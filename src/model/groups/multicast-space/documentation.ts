import { inPrefix, isMulticast, type Address } from '../../../values/address.js';
import { isDocumentation } from '../../hosts/index.js';
import { embeddedUnicastPrefix, glopAutonomousSystem, isDocumentationAutonomousSystem } from './derived4.js';
import { embeddedNetworkPrefix6 } from './groups6.js';
import { constantAddress4, constantPrefix } from '../../../values/address-table.js';
import { LOCAL_SCOPE_4, ORGANIZATION_LOCAL_SCOPE_4, scopeRelativeOffset } from './scopes4.js';

/** MCAST-TEST-NET (RFC 5771 §9.2, RFC 6676 §2). */
const TEST_NET = constantPrefix('233.252.0.0/24');
/** MCAST-TEST-NET-2: this far below the top of every scope (RFC 6676 §2.1). */
const TEST_NET_OFFSET = 10;
/** RFC 6676 §2.3 names these three, from the three documentation prefixes of RFC 5737. */
const UNICAST_PREFIX_EXAMPLES = new Set(['234.192.0.2', '234.198.51.100', '234.203.0.113'].map(constantAddress4));
/** The group IDs of ff0x::db8:0:0/96 (RFC 6676 §3), above the 32 bits that are free. */
const DOCUMENTATION_GROUP_HIGH = 0xdb8n;
/** ff0: a group with all flags clear (RFC 4291 §2.7). */
const PERMANENT_GROUP_6 = 0xff0n;

/**
 * Whether a group is set aside for documentation (RFC 6676) or is derived from an AS number or a prefix that is. Such a
 * group has no place in a plan that will be built.
 */
export function isDocumentationGroup(group: Address): boolean {
  return typeof group === 'number' ? isDocumentationGroup4(group) : isDocumentationGroup6(group);
}

function isDocumentationGroup4(group: number): boolean {
  if (inPrefix(group, TEST_NET)) return true;
  if (scopeRelativeOffset(group, LOCAL_SCOPE_4) === TEST_NET_OFFSET) return true;
  if (scopeRelativeOffset(group, ORGANIZATION_LOCAL_SCOPE_4) === TEST_NET_OFFSET) return true;
  const autonomousSystem = glopAutonomousSystem(group);
  if (autonomousSystem !== undefined) return isDocumentationAutonomousSystem(autonomousSystem);
  return embeddedUnicastPrefix(group) !== undefined && UNICAST_PREFIX_EXAMPLES.has(group);
}

/** RFC 6676 §3 (permanently assigned), §3.1 (prefix-based) and §3.2 (embedded RP). */
function isDocumentationGroup6(group: bigint): boolean {
  if (group >> 116n === PERMANENT_GROUP_6) return BigInt.asUintN(112, group) >> 32n === DOCUMENTATION_GROUP_HIGH;
  const prefix = isMulticast(group) ? embeddedNetworkPrefix6(group) : undefined;
  return prefix !== undefined && isDocumentation(prefix.network);
}
