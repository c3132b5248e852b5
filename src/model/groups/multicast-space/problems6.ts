import { formatAddress, inPrefix } from '../../../values/address.js';
import { constantPrefix } from '../../../values/address-table.js';
import { assignedGroup6 } from './assigned6.js';
import {
  embeddedPrefixField6,
  embeddedPrefixLength6,
  embeddedRendezvousPoint6,
  multicastFlags6,
  multicastScope6,
  rendezvousInterface6,
} from './groups6.js';
import { isSourceSpecific } from './source-specific.js';

export type GroupProblemKind6 =
  | 'reserved-flag'
  | 'reserved-scope'
  | 'interface-local-scope'
  | 'not-assigned'
  | 'prefix-without-transient'
  | 'rendezvous-without-prefix'
  | 'reserved-bits'
  | 'prefix-length'
  | 'prefix-field'
  | 'rendezvous-interface'
  | 'rendezvous-address'
  | 'source-specific-invalid'
  | 'source-specific-reserved';

/** What is wrong with the form of an IPv6 group, in words that end a sentence about it. */
export interface GroupProblem6 {
  readonly kind: GroupProblemKind6;
  readonly title: string;
  readonly citation: string;
}

/**
 * Every fault in the form of an IPv6 group that a plan means for its own use; empty when it is well formed. A
 * link-local group is well formed: whether it may be one depends on who listens (see `routable` of its scope).
 */
export function groupProblems6(group: bigint): readonly GroupProblem6[] {
  return [...scopeProblems(group), ...flagProblems(group), ...formProblems(group)];
}

function scopeProblems(group: bigint): readonly GroupProblem6[] {
  const { edge, value } = multicastScope6(group);
  if (edge === 'reserved') {
    return [problem('reserved-scope', `scope ${value.toString(16)} is reserved`, 'RFC 4291 §2.7')];
  }
  if (edge !== 'interface') return [];
  return [problem('interface-local-scope', 'interface-local scope never leaves the sender', 'RFC 4291 §2.7')];
}

function flagProblems(group: bigint): readonly GroupProblem6[] {
  const flags = multicastFlags6(group);
  const problems: GroupProblem6[] = [];
  if (flags.reserved && !flags.prefix) {
    // With P set the bit is free since RFC 7371 §4.1.1; everywhere else RFC 4291 stands.
    problems.push(problem('reserved-flag', 'the high-order flag must be 0', 'RFC 4291 §2.7'));
  }
  if (flags.rendezvous && !(flags.prefix && flags.transient)) {
    problems.push(problem('rendezvous-without-prefix', 'flag R needs flags P and T', 'RFC 3956 §3'));
  } else if (flags.prefix && !flags.transient) {
    problems.push(problem('prefix-without-transient', 'flag P needs flag T', 'RFC 3306 §4'));
  } else if (!flags.transient && assignedGroup6(group) === undefined) {
    const title = 'flag T is 0, which marks a group assigned by IANA, and no assignment is known';
    problems.push(problem('not-assigned', title, 'RFC 4291 §2.7'));
  }
  return problems;
}

/** The fields behind the scope, which only prefix-based groups have. */
function formProblems(group: bigint): readonly GroupProblem6[] {
  const { prefix, transient, rendezvous } = multicastFlags6(group);
  if (!prefix || !transient) return [];
  if (isSourceSpecific(group)) return sourceSpecificProblems(group);
  return [...reservedBits(group, rendezvous), ...prefixProblems(group), ...rendezvousProblems(group, rendezvous)];
}

/** RFC 4607 §1 (valid group IDs) and §4.3 (who hands them out). */
function sourceSpecificProblems(group: bigint): readonly GroupProblem6[] {
  if (embeddedPrefixField6(group) !== 0n) {
    return [problem('prefix-field', 'a source-specific group has a zero network prefix: ff3x::/96', 'RFC 4607 §1')];
  }
  const groupId = BigInt.asUintN(32, group);
  if (groupId < 0x40000000n) {
    return [problem('source-specific-invalid', 'group IDs below 4000:0 are no source-specific groups', 'RFC 4607 §1')];
  }
  if (groupId < 0x80000000n) {
    const title = 'group IDs 4000:0 to 7fff:ffff are reserved for IANA';
    return [problem('source-specific-reserved', title, 'RFC 4607 §4.3')];
  }
  return [];
}

/** RFC 7371 §4.1.1: flag field 2 is sent as zero. RFC 3956 §3: so are the four bits after it, unless R is set. */
function reservedBits(group: bigint, rendezvous: boolean): readonly GroupProblem6[] {
  const flagField2 = BigInt.asUintN(4, group >> 108n);
  const lastFour = rendezvous ? 0 : rendezvousInterface6(group);
  if (flagField2 === 0n && lastFour === 0) return [];
  return [problem('reserved-bits', 'the bits between scope and prefix length must be 0', 'RFC 3306 §4')];
}

function prefixProblems(group: bigint): readonly GroupProblem6[] {
  const { rendezvous } = multicastFlags6(group);
  const length = embeddedPrefixLength6(group);
  const citation = rendezvous ? 'RFC 3956 §4' : 'RFC 3306 §4';
  if (length > 64) return [problem('prefix-length', `prefix length ${length} is above 64`, citation)];
  if (length === 0) {
    if (!rendezvous) return [];
    return [problem('prefix-length', 'prefix length 0 leads to no rendezvous point', citation)];
  }
  // RFC 3956 §4 lets the holder of an RP hand out groups that carry more of a customer's prefix than the RP's length.
  if (rendezvous || BigInt.asUintN(64 - length, embeddedPrefixField6(group) >> 64n) === 0n) return [];
  return [problem('prefix-field', `the network prefix has bits set beyond its length ${length}`, citation)];
}

function rendezvousProblems(group: bigint, rendezvous: boolean): readonly GroupProblem6[] {
  const address = embeddedRendezvousPoint6(group);
  if (!rendezvous || address === undefined) return [];
  const problems: GroupProblem6[] = [];
  if (rendezvousInterface6(group) === 0) {
    problems.push(problem('rendezvous-interface', 'RP interface ID 0 is reserved', 'RFC 3956 §4'));
  }
  if (NO_RENDEZVOUS_POINT.some((prefix) => inPrefix(address, prefix))) {
    const title = `${formatAddress(address)} cannot be a rendezvous point`;
    problems.push(problem('rendezvous-address', title, 'RFC 3956 §4'));
  }
  return problems;
}

/** Prefixes a router must not take for a rendezvous point (RFC 3956 §4). */
const NO_RENDEZVOUS_POINT = ['fe80::/10', '::/16', 'ff00::/8'].map(constantPrefix);

function problem(kind: GroupProblemKind6, title: string, citation: string): GroupProblem6 {
  return { kind, title, citation };
}
