import { inPrefix, isMulticast, type Address } from '../../values/address.js';
import type { Conventions, Leg, Practice } from '../../plan/types.js';
import { constantPrefix } from '../../values/address-table.js';
import { assignedGroup4 } from './multicast-space/assigned4.js';
import { assignedGroup6 } from './multicast-space/assigned6.js';
import { classifyGroup4 } from './multicast-space/blocks4.js';
import { glopAutonomousSystem, ownsGroupByPrefix } from './multicast-space/derived4.js';
import { isDocumentationGroup } from './multicast-space/documentation.js';
import { groupProblems6, type GroupProblem6, type GroupProblemKind6 } from './multicast-space/problems6.js';
import { append } from '../../collections/group-by.js';

/**
 * What becomes of a group when media use it. Exactly one holds, the first that fits, so that one misplaced group gives
 * one finding.
 */
export type GroupFitness =
  | 'not-multicast'
  | 'link-control'
  | 'documentation'
  | 'assigned'
  | 'scope-top'
  | 'reserved-block'
  | 'foreign-glop'
  | 'foreign-unicast-prefix'
  | 'source-specific-reserved'
  | 'scope-fault'
  | 'form-fault'
  | 'outside-practice'
  | 'usable';

/** Every fitness but the good one. */
export type Misplacement = Exclude<GroupFitness, 'usable'>;

/** The fitness of a group in a rig with these conventions and practice; cheap for most of 239/8, where most groups lie. */
export function groupFitness(group: Address, conventions: Conventions, practice: Practice): GroupFitness {
  const fitness = typeof group === 'number' ? fitness4(group, conventions) : fitness6(group);
  return fitness !== 'usable' || followsPractice(group, conventions, practice) ? fitness : 'outside-practice';
}

/** Those of the legs whose groups are misplaced, by the reason, in their order. */
export function buildMisplaced(legs: readonly Leg[]): ReadonlyMap<Misplacement, readonly Leg[]> {
  const found = new Map<Misplacement, Leg[]>();
  for (const leg of legs) {
    if (leg.group === undefined) continue;
    const { conventions, practice } = leg.sender.rig;
    const fitness = groupFitness(leg.group, conventions, practice);
    if (fitness === 'usable') continue;
    append(found, fitness, leg);
  }
  return found;
}

/** The faults of an IPv6 group that lie in its scope field. */
export function scopeFaults6(group: bigint): readonly GroupProblem6[] {
  return groupProblems6(group).filter(({ kind }) => SCOPE_FAULTS.has(kind));
}

/** The faults of an IPv6 group that lie in its flags and the fields behind the scope. */
export function formFaults6(group: bigint): readonly GroupProblem6[] {
  return groupProblems6(group).filter(({ kind }) => !SCOPE_FAULTS.has(kind) && !SOURCE_SPECIFIC_FAULTS.has(kind));
}

const SCOPE_FAULTS: ReadonlySet<GroupProblemKind6> = new Set(['reserved-scope', 'interface-local-scope'] as const);
const SOURCE_SPECIFIC_FAULTS: ReadonlySet<GroupProblemKind6> = new Set([
  'source-specific-invalid',
  'source-specific-reserved',
] as const);

const ADMINISTRATIVELY_SCOPED = 0xef;
/** Top /24 of the Local Scope and of the Organization Local Scope (RFC 2365 §9), as group >>> 8. */
const LOCAL_SCOPE_TOP = 0xefffff;
const ORGANIZATION_LOCAL_SCOPE_TOP = 0xefc3ff;
/** ff02::/16: permanent groups of link-local scope (RFC 4291 §2.7), the IPv6 twin of 224.0.0.0/24. */
const LINK_CONTROL_6 = constantPrefix('ff02::/16');

function fitness4(group: number, conventions: Conventions): GroupFitness {
  if (!isMulticast(group)) return 'not-multicast';
  const upper = group >>> 8;
  const scopeTop = upper === LOCAL_SCOPE_TOP || upper === ORGANIZATION_LOCAL_SCOPE_TOP;
  if (group >>> 24 === ADMINISTRATIVELY_SCOPED && !scopeTop) return 'usable';
  const { kind } = classifyGroup4(group);
  if (kind === 'local-network-control') return 'link-control';
  if (kind === 'source-specific') return 'usable';
  if (isDocumentationGroup(group)) return 'documentation';
  if (scopeTop) return 'scope-top';
  if (kind === 'internetwork-control' || assignedGroup4(group) !== undefined) return 'assigned';
  switch (kind) {
    case 'glop':
      return holdsGlop(group, conventions) ? 'usable' : 'foreign-glop';
    case 'unicast-prefix':
      return holdsUnicastPrefix(group, conventions) ? 'usable' : 'foreign-unicast-prefix';
    case 'source-specific-reserved':
      return 'source-specific-reserved';
    case 'administratively-scoped':
      return 'usable';
    case 'ad-hoc':
    case 'reserved':
    case 'sdp-sap':
    case 'dis-transient':
      return 'reserved-block';
  }
}

function fitness6(group: bigint): GroupFitness {
  if (!isMulticast(group)) return 'not-multicast';
  if (inPrefix(group, LINK_CONTROL_6)) return 'link-control';
  if (isDocumentationGroup(group)) return 'documentation';
  if (assignedGroup6(group) !== undefined) return 'assigned';
  const problems = groupProblems6(group);
  if (problems.length === 0) return 'usable';
  if (problems.some(({ kind }) => SCOPE_FAULTS.has(kind))) return 'scope-fault';
  return problems.every(({ kind }) => SOURCE_SPECIFIC_FAULTS.has(kind)) ? 'source-specific-reserved' : 'form-fault';
}

/** A group the conventions hold by its AS number or prefix is its own, whichever side its practice takes. */
function followsPractice(group: Address, conventions: Conventions, practice: Practice): boolean {
  if (practice.groupRanges.some((prefix) => inPrefix(group, prefix))) return true;
  return typeof group === 'number' && (holdsGlop(group, conventions) || holdsUnicastPrefix(group, conventions));
}

function holdsGlop(group: number, conventions: Conventions): boolean {
  return conventions.autonomousSystem !== undefined && glopAutonomousSystem(group) === conventions.autonomousSystem;
}

function holdsUnicastPrefix(group: number, conventions: Conventions): boolean {
  return conventions.prefixes.some((prefix) => ownsGroupByPrefix(prefix, group));
}
