/** Everything a rule needs: the only module of `src/` that a rule imports. */
import type { Model } from '../model/model.js';
import type { FactKey } from '../model/facts.js';
import type { Plan, Waiver } from '../plan/types.js';
import type { Citation } from './citation.js';
import type { FindingDraft, Severity } from './finding.js';

export * from '../values/address.js';
export * from '../values/mac.js';
export * from '../values/quantity.js';
export type * from '../plan/types.js';
export { nearest } from '../source/nearest.js';
export { clause, commonPractice, type Citation } from './citation.js';
export type { FindingDraft, Mark, Severity, Touch } from './finding.js';
export type { Model } from '../model/model.js';
export type { Attached, Domain, Domains, VlanJoin } from '../model/domains.js';
export * from '../model/trunks.js';
export { linkDifference, type LinkDifference } from '../model/link-differences.js';
export { missingLinks } from '../model/missing-links.js';
export * from '../model/look-alike.js';
export { portRanges } from '../model/port-ranges.js';
export { kindOf } from '../model/kind-entries.js';
export { likelyMeant, usedFormats, usedNetworks, usedVlans } from '../model/usage.js';
export type { GroupUse } from '../model/group-use.js';
export { formFaults6, groupStanding, scopeFaults6, type GroupStanding, type Misplacement } from '../model/group-standing.js';
export { commonRanges, keepsPromise } from '../model/house-groups.js';
export { freeGroups } from '../model/free-groups.js';
export { macKeyedSwitches, sharedEthernet, type SharedEthernet } from '../model/ethernet-use.js';
export { isInterface, ownerLabel, type Owner } from '../model/owners.js';
export * from '../model/addressing.js';
export * from '../model/host-addresses.js';
export * from '../model/owner-domain.js';
export * from '../model/mac-kinds.js';
export { createFreeAddresses } from '../model/free-addresses.js';
export * from '../model/subnet-use.js';
export { createFreeBlocks } from '../model/free-blocks.js';
export { UnionFind } from '../model/union-find.js';
export * from '../model/multicast-space.js';
export * from '../model/special-purpose.js';
export { formatDifferences, packetTimesDiffer, type FormatDifference } from '../model/format-differences.js';
export { groupBy } from '../model/group-by.js';
export { imageOf, preimageOf } from '../model/leg-map.js';
export { receiverClashes, type ReceiverClash } from '../model/receiver-clash.js';
export type { Reception } from '../model/reception.js';
export { whyNoSource } from '../model/source-address.js';
export { filtersSources, isSourceSpecificFor, toldApartBySource } from '../model/source-filter.js';
export { kindThatWrites, writtenOnce, type WrittenOnce } from '../model/written-once.js';
export { vlanOfAddress } from '../plan/resolve/placement.js';
export { heldMark, heldSubject, touchOfOwner, vlanSubject } from './held-marks.js';
export { listNames } from './words.js';
export { byLabel, legLabel, mark, otherPlaces, receiverLegLabel, sourceMark, touchOf } from './labels.js';
export { groupsOf, groupWords, inRig, legSets, otherMarks, rangeWords, type LegSet } from './leg-sets.js';
export { whereTo } from './where-to.js';

/** A number a profile or a house may change. */
export interface Threshold {
  readonly default: number;
  /** What it limits, with its unit. */
  readonly what: string;
}

/** What became of a waiver once every rule had run. */
export interface WaiverUse {
  readonly waiver: Waiver;
  /** `idle`: no finding matches it. `expired`: its last day is past, so its finding counts again. */
  readonly state: 'used' | 'idle' | 'expired';
}

export interface RuleContext {
  readonly plan: Plan;
  /** What the network does with the plan; every part computed once, on first use. */
  readonly model: Model;
  /** A threshold this rule declares: the profile's value, else the house's, else the default. */
  readonly threshold: (name: string) => number;
  /** For rules of the `waivers` stage; empty before. */
  readonly waivers: readonly WaiverUse[];
}

export interface Rule {
  /** `family/fault`, equal to the rule's folder below `rules/`. */
  readonly id: string;
  /** One line that names the fault. */
  readonly summary: string;
  readonly severity: Severity;
  readonly sources: readonly Citation[];
  /** Facts without which the rule can say nothing; the summary reports those a plan lacks. */
  readonly needs: readonly FactKey[];
  readonly thresholds?: Readonly<Record<string, Threshold>>;
  /** `waivers`: runs after the findings of all other rules have met the waivers. */
  readonly stage?: 'waivers';
  /** Pure: asks the plan and the model, yields one draft per cause, in plan order. */
  readonly check: (context: RuleContext) => Iterable<FindingDraft>;
}

/** Keeps literal types and checks the shape. */
export function defineRule(rule: Rule): Rule {
  return rule;
}
