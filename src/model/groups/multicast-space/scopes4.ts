import { rangeOf, type AddressRange, type Prefix } from '../../../values/address.js';
import { constantAddress4, constantPrefix, findRange } from '../../../values/address-table.js';

export type GroupScopeKind4 =
  'local' | 'local-expansion' | 'organization-local' | 'organization-local-expansion' | 'unnamed';

/** A part of 239.0.0.0/8 with the name RFC 2365 gives it. */
export interface GroupScope4 {
  readonly kind: GroupScopeKind4;
  readonly title: string;
  readonly range: AddressRange;
  readonly citation: string;
}

/** The scope of a group in 239.0.0.0/8 (RFC 2365 §6); undefined for every other group. */
export function scopeOf4(group: number): GroupScope4 | undefined {
  return findRange(GROUP_SCOPES_4, group);
}

/** The IPv4 Local Scope (RFC 2365 §6.1). */
export const LOCAL_SCOPE_4: Prefix = constantPrefix('239.255.0.0/16');

/** The IPv4 Organization Local Scope (RFC 2365 §6.2). */
export const ORGANIZATION_LOCAL_SCOPE_4: Prefix = constantPrefix('239.192.0.0/14');

/**
 * How far a group lies below the top of a scope, when it lies in the scope's top /24, which RFC 2365 §9 reserves for
 * scope-relative assignments; undefined elsewhere.
 */
export function scopeRelativeOffset(group: number, scope: Prefix): number | undefined {
  const { last } = rangeOf(scope);
  if (typeof last !== 'number') return undefined;
  const offset = last - group;
  return offset >= 0 && offset < Math.min(256, 2 ** (32 - scope.length)) ? offset : undefined;
}

/**
 * In address order, without gap or overlap. IANA's registry titles the whole of 239/8 "Organization-Local Scope"; the
 * names here are those of RFC 2365, which gives that name to 239.192.0.0/14 alone.
 */
export const GROUP_SCOPES_4: readonly GroupScope4[] = [
  scope(
    'organization-local-expansion',
    'unassigned, for expansion of the Organization Local Scope',
    '239.0.0.0',
    '239.191.255.255',
    'RFC 2365 §6.2.1',
  ),
  scope('organization-local', 'IPv4 Organization Local Scope', '239.192.0.0', '239.195.255.255', 'RFC 2365 §6.2'),
  scope('unnamed', 'administratively scoped, without a named scope', '239.196.0.0', '239.252.255.255', 'RFC 2365 §6'),
  scope(
    'local-expansion',
    'reserved for downward growth of the Local Scope',
    '239.253.0.0',
    '239.254.255.255',
    'RFC 2365 §6.1.1',
  ),
  scope('local', 'IPv4 Local Scope', '239.255.0.0', '239.255.255.255', 'RFC 2365 §6.1'),
];

function scope(kind: GroupScopeKind4, title: string, first: string, last: string, citation: string): GroupScope4 {
  return { kind, title, range: { first: constantAddress4(first), last: constantAddress4(last) }, citation };
}
