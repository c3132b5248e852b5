import { inPrefix, type Address, type Prefix } from '../../../values/address.js';
import { multicastFlags6 } from './groups6.js';
import { constantPrefix } from '../../../values/address-table.js';

const SOURCE_SPECIFIC_4 = constantPrefix('232.0.0.0/8');

/**
 * Whether a group is source-specific. Without `ranges`: 232/8 and ff3x::/32 (RFC 4607 §1). A network may be set to
 * other ranges, alike in all its hosts and routers (RFC 4604 §2); `ranges` then stand instead of the default.
 */
export function isSourceSpecific(group: Address, ranges?: readonly Prefix[]): boolean {
  if (ranges !== undefined) return ranges.some((range) => inPrefix(group, range));
  return typeof group === 'number' ? inPrefix(group, SOURCE_SPECIFIC_4) : isSourceSpecific6(group);
}

/**
 * ff3x::/32, or ffbx::/32 with the flag that has no meaning yet (RFC 7371 §4.1.2): R clear, P and T set, any scope, and
 * 16 zero bits where a prefix-based group carries its prefix length.
 */
function isSourceSpecific6(group: bigint): boolean {
  const { rendezvous, prefix, transient } = multicastFlags6(group);
  const sixteenBitsAfterScope = BigInt.asUintN(16, group >> 96n);
  return group >> 120n === 0xffn && !rendezvous && prefix && transient && sixteenBitsAfterScope === 0n;
}
