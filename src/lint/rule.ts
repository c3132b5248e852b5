/** Everything a rule needs: the only module of `src/` that a rule imports. */
import type { Model } from '../model/model.js';
import type { FactKey } from '../model/facts.js';
import type { Plan, Rig, Waiver } from '../plan/types.js';
import type { Citation } from './citation.js';
import type { Confidence, FindingDraft, FindingWords, Severity } from './finding.js';

export * from '../values/address.js';
export * from '../values/mac.js';
export * from '../values/quantity.js';
export type * from '../plan/types.js';
export { nearest } from '../source/nearest.js';
export { clause, commonPractice, type Citation } from './citation.js';
export type { Confidence, FindingDraft, FindingWords, Mark, Severity, Touch, Wording } from './finding.js';
export type { Model } from '../model/model.js';
export type { Attached, Domain, Domains, VlanJoin } from '../model/vlans/domains.js';
export * from '../model/vlans/trunks.js';
export { linkDifference, type LinkDifference } from '../model/vlans/link-differences.js';
export { missingLinks } from '../model/vlans/missing-links.js';
export * from '../model/written/look-alike.js';
export { portRanges } from '../words/port-ranges.js';
export { kindOf } from '../model/written/kind-entries.js';
export { unusedFormats, unusedKinds, unusedNetworks, unusedVlans } from '../model/written/usage.js';
export type { GroupUse } from '../model/groups/group-use.js';
export {
  formFaults6,
  groupFitness,
  scopeFaults6,
  type GroupFitness,
  type Misplacement,
} from '../model/groups/group-fitness.js';
export { commonRanges, keepsPromise } from '../model/groups/house-groups.js';
export type { Proposals } from '../model/proposals/proposals.js';
export type { StrayKind, Strays, StrayVlan } from '../model/groups/strays.js';
export { macKeyedSwitches, mayAlias, sharedEthernet, type SharedEthernet } from '../model/groups/ethernet-use.js';
export { isInterface, ownerLabel, type Owner } from '../model/hosts/owners.js';
export * from '../model/hosts/addressing.js';
export * from '../model/hosts/host-addresses.js';
export * from '../model/hosts/owner-domain.js';
export * from '../model/hosts/mac-kinds.js';
export * from '../model/hosts/subnet-use.js';
export { createFreeBlocks } from '../model/proposals/free-blocks.js';
export { freeStretch } from '../model/proposals/free-stretch.js';
export { joinedRigs } from '../model/vlans/joined-rigs.js';
export { joinClasses, splitVlans, type SplitVlan } from '../model/vlans/joined-vlans.js';
export { otherEntries, sharedVlans } from '../model/vlans/shared-vlans.js';
export { UnionFind } from '../collections/union-find.js';
export * from '../model/groups/multicast-space/index.js';
export * from '../model/hosts/special-purpose.js';
export { formatDifferences, packetTimesDiffer, type FormatDifference } from '../model/streams/format-differences.js';
export { append, groupBy } from '../collections/group-by.js';
export { isNonEmpty, lastOf, mapAll, type NonEmpty } from '../collections/non-empty.js';
export { agree, counted, plural } from '../words/counts.js';
export { imageOf, preimageOf } from '../model/groups/leg-map.js';
export { sendersClash } from '../model/groups/senders-clash.js';
export { receiverClashes, type ReceiverClash } from '../model/streams/receiver-clash.js';
export type { Reception } from '../model/streams/reception.js';
export { sourceFault, type SourceFault } from '../model/hosts/source-address.js';
export {
  FILTERING_VERSION,
  filtersSources,
  isSourceSpecificFor,
  severalToldApart,
  toldApartBySource,
} from '../model/groups/source-filter.js';
export * from '../model/timing/profiles.js';
export * from '../model/timing/clock-quality.js';
export {
  announceTolerance,
  takeoverTimes,
  type AnnounceTolerance,
  type Span,
  type TakeoverTimes,
} from '../model/timing/takeover-time.js';
export { followerLoad, leaderLoad, type MessageLoad, type MessageRates } from '../model/timing/message-load.js';
export type { ClockLoad, ClockPortLoad } from '../model/timing/clock-load.js';
export type { ClockFact, ClockFacts, ClockOwner } from '../model/timing/clocks.js';
export type { Handover, LossResult, NamedLoss } from '../model/timing/failover.js';
export type { FollowerPair, Impatient, Timing } from '../model/timing/index.js';
export type { PortState } from '../model/timing/election.js';
export type { Reason, ClockRole } from '../model/timing/clock-role.js';
export type { Clock, ClockPort, Island, Leader, Outcome, TimingGroup, TimingState } from '../model/timing/timing.js';
export type { Budget, DelayGap, DelayItem } from '../model/delay/budget.js';
export type { Chain, Hop } from '../model/delay/chain.js';
export type { Delays, LipSyncDelay, RoundTripDelay } from '../model/delay/index.js';
export * from '../model/delay/limits.js';
export { frameFamilies, type FrameFamily } from '../model/delay/frame-families.js';
export { packetTimeNs } from '../model/delay/packing.js';
export { parseReferenceClock, type ReferenceClock } from '../model/delay/reference-clock.js';
export {
  formatClockIdentity,
  identityFromMac,
  parseClockIdentity,
  type ClockIdentity,
} from '../values/clock-identity.js';
export { compareQualities, type Step } from '../model/timing/bmca.js';
export { isSwitch as isSwitchClock } from '../model/timing/clocks.js';
export * from '../model/timing/intent.js';
export {
  ptpHostsIn,
  splitByTransport,
  unawareSwitches,
  type TransportSplit,
  type Unaware,
} from '../model/timing/ways.js';
export * from './clock-marks.js';
export type { UnusualNumbers } from '../model/streams/unusual-legs.js';
export { kindThatWrites, writtenOnce, type WrittenOnce } from '../model/written/written-once.js';
export {
  addressesOn,
  electionWinner,
  hostsIn,
  whileUnqueried,
  type Candidate,
  type GroupSegment,
  type Protocol,
  type VlanSetting,
} from '../model/network/group-segments.js';
export * from '../model/network/timers.js';
export { crossingsOf, type Crossing } from '../model/network/crossings.js';
export { hasSourceSpecificGroup, oldVersions } from '../model/network/old-versions.js';
export { loneQuerier, type LoneQuerier } from '../model/network/lone-querier.js';
export type { Edge } from '../model/network/segment.js';
export type { Flow } from '../model/network/flows.js';
export { floodFillsPorts, floodOver, type Flood, type FloodedHost } from '../model/network/flood.js';
export { vlanOfAddress } from '../plan/resolve/placement.js';
export { heldMark, heldSubject, touchOfOwner, vlanSubject } from './held-marks.js';
export { rateWords, shareWords } from '../words/rates.js';
export { listNames, nothingOf } from '../words/lists.js';
export * from './segments.js';
export { fullLinkFindings, useMarks, useSubject } from './link-loads.js';
export type { LinkUse } from '../model/network/link-use.js';
export type { FloodReason } from '../model/network/conduct.js';
export type { ForwardingSegment } from '../model/network/flows.js';
export type { PortLoad } from '../model/network/load.js';
export { arrivalsAt, floodings, type Arrivals, type Flooding } from '../model/network/arrivals.js';
export { tableUses, type TableUse } from '../model/network/group-tables.js';
export { elementMarks, elementSubject, elementTouch, namedElement } from './failure-marks.js';
export { lonePoints, sharedCauses, streamsOf, type Fate } from '../model/network/shared-fate.js';
export type { Element, Failure } from '../model/network/failures.js';
export { pairedNetworks } from '../model/vlans/paired-networks.js';
export { portsOnWay } from '../model/network/packet-path.js';
export { rerouted, type Rerouted } from '../model/network/rerouted.js';
export {
  channelsThatFit,
  isExtended,
  STANDARD_RTP_PAYLOAD_OCTETS,
  STANDARD_UDP_OCTETS,
} from '../model/streams/datagrams.js';
export { byLabel } from '../collections/order.js';
export { legLabel, ofRig, receiverLegLabel, withId, withRig } from '../words/labels.js';
export { mark, noted, otherPlaces, sourceMark, touchOf, touchOfCause, touchOfKind } from './marks.js';
export { groupMark, groupSubject, inRig, legSets, otherMarks, setDraft, type LegSet } from './leg-sets.js';
export { groupsOf, groupWords, promiseWords, rangeWords, withGroup } from '../words/groups.js';
export {
  destinationsOf,
  freeMovesOf,
  movesOf,
  type Destination,
  type FreeMoves,
  type Moves,
} from '../model/proposals/destinations.js';
export { destinationWords, freeMoveWords, moveWords } from '../words/destinations.js';

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
  /**
   * A threshold this rule declares: the profile's value, else that of the rig's house, else the default. Without a rig,
   * for what several rigs share: the least favourable is nobody's promise, so the first house that states one counts.
   */
  readonly threshold: (name: string, rig?: Rig) => number;
  /** For rules of the `waivers` stage; empty before. */
  readonly waivers: readonly WaiverUse[];
}

/** `Facts` and `Note` are what its findings carry; the engine and the reports know neither. */
export interface Rule<Facts extends object = object, Note = unknown> {
  /** `family/fault`, equal to the rule's folder below `rules/`. */
  readonly id: string;
  /** One line that names the fault. */
  readonly summary: string;
  readonly severity: Severity;
  /** How sure its findings are, unless one says otherwise; `certain` when absent. */
  readonly confidence?: Confidence;
  readonly sources: readonly Citation[];
  /** Facts without which the rule can say nothing; the summary reports those a plan lacks. */
  readonly needs: readonly FactKey[];
  readonly thresholds?: Readonly<Record<string, Threshold>>;
  /** `waivers`: runs after the findings of all other rules have met the waivers. */
  readonly stage?: 'waivers';
  /** Pure: asks the plan and the model, yields one draft per cause, in plan order. */
  check(context: RuleContext): Iterable<FindingDraft<Facts, Note>>;
  /** Words the facts of one finding; called only where somebody reads them. */
  words(facts: Facts): FindingWords<Note>;
}

/** Ties what `check` yields to what `words` takes, and checks the shape. */
export function defineRule<Facts extends object, Note = never>(rule: Rule<Facts, Note>): Rule {
  return rule as Rule;
}
export { referrerLabel, wantedLabel } from '../words/referrers.js';
export { brokenPair, kindsThatBreakPairs, type BrokenPair } from '../model/streams/source-pairs.js';
export { portUses, type PortUse } from '../model/vlans/port-uses.js';
export { entityLabel } from '../words/plain-facts.js';
export { ascending, byCodeUnit } from '../collections/order.js';
export { listOr } from '../words/lists.js';
export { joinLabel } from '../words/labels.js';
export { overlapsOf, subnetEntries, type Overlap, type SubnetEntry } from '../model/hosts/subnet-overlaps.js';
export {
  commonRange,
  mayBeOneServer,
  overlappingRanges,
  rangeWithout,
  type DhcpEntry,
} from '../model/hosts/dhcp-overlaps.js';
export * from '../words/segments.js';
export { servingSeveralLegs } from '../model/network/lone-querier.js';
export { sharedEdges } from '../model/network/shared-edges.js';
export { querierPlaces } from '../model/network/querier-places.js';
export { floodOfAll, wantedByHost } from '../model/network/flood.js';
export { stuckCrossings, type Stuck } from '../model/network/stuck-crossings.js';
export { routersApart } from '../model/network/router-feet.js';
export { mayWin, querierFault, type QuerierFault } from '../model/network/querier-faults.js';
export { settingDifferences, type SettingKey, type SettingValue } from '../model/network/setting-differences.js';
export { arrivingAt, blindSharings } from '../model/network/blind-sharing.js';
export { OLD_VERSION, timerFaults, type TimerFault } from '../model/network/timer-faults.js';
export { advantageOf, isOpenBetween, type Advantage } from '../model/timing/advantage.js';
export {
  firstPlaceFor,
  overruledLeaders,
  tieBetween,
  withoutAgreement,
  type FirstPlace,
} from '../model/timing/agreement.js';
export { clocksByName } from '../model/timing/clocks-by-name.js';
export { domainCrossings, unplannedDomains } from '../model/timing/domain-crossings.js';
export { lossOfClocks, lossOfLinks } from '../model/timing/failover.js';
export { leaderless } from '../model/timing/leaderless.js';
export { endDeviceTakeover } from '../model/timing/end-device-takeover.js';
export { admittedDefault, clockFaults, domainFaults, type ProfileFault } from '../model/timing/profile-faults.js';
export { oddAnnounceIntervals } from '../model/timing/announce-intervals.js';
export { tiedLeaders } from '../model/timing/ties.js';
export { advantageWords, spanWords } from '../words/clocks.js';
export { keyOfVictory, wrongLeaders, type Victory } from '../model/timing/wrong-leaders.js';
export { shortLinkOffsets, type ShortLinkOffset } from '../model/delay/link-offset.js';
export { foreignDomains, splitReferenceClocks, type StatedClock } from '../model/delay/reference-clock-faults.js';
export { delayWords, milliseconds, type Delay } from '../words/times.js';
export { namesakes, type NamedKind, type Namesakes } from '../model/written/namesakes.js';
export { alikeNames, type AlikeThing, type NameDifference } from '../model/written/alike-names.js';
export { idleJoins, mergedVlans } from '../model/vlans/join-faults.js';
export { deviceOfReferrer, kindOfReference, lostNames } from '../model/written/lost-names.js';
export * from '../words/loads.js';
export type { NamedRate } from '../words/rates.js';
export { keyAssumed } from '../model/network/conduct.js';
export { floodedPorts, fullPorts, type FloodedPorts, type FullPort } from '../model/network/full-ports.js';
export { largePackets, narrowWays, unsaidMtus, type NarrowWay } from '../model/network/packet-sizes.js';
export { mixedLimits } from '../model/streams/mixed-limits.js';
export { channelsWithin, payloadOf, udpLimitOf, udpWithin } from '../model/streams/datagrams.js';
export { memberTitle } from '../words/formats.js';
export { causeLegLabel } from '../words/labels.js';
export { isControlType, misusesPayloadType } from '../model/streams/payload-types.js';
export { behindRouters } from '../model/streams/behind-routers.js';
export {
  descriptionDifferences,
  type DescribedFact,
  type DescriptionDifference,
} from '../model/streams/description-differences.js';
export { expectedDifferences } from '../model/streams/format-differences.js';
export { groupDiffers, legsSwapped, sourceDiffers } from '../model/streams/joins-elsewhere.js';
export { isSilent, siblingStream, standsInHouse } from '../model/streams/silent-joins.js';
export { kept } from '../collections/kept.js';
export { mtuEntity, oddMtus, oncePerEntry, smallPorts, type OddMtu, type SizedPort } from '../model/vlans/mtus.js';
export { rateDifference } from '../model/vlans/rate-differences.js';
export { createNearestVlanIds, HIGHEST_VLAN_ID, isVlanId, LOWEST_VLAN_ID } from '../model/vlans/ids.js';
export { vlanGaps, type Patched } from '../model/vlans/vlan-gaps.js';
export { unroutedPairs } from '../model/vlans/unrouted.js';
export { heldFact } from './held-marks.js';
export { heldSetDraft, heldSets, type WholeSubnet } from './held-sets.js';
export { heldWords, type HeldFact } from '../words/held.js';
export { subnetEdge, type EdgeKind, type SubnetEdge } from '../model/hosts/subnet-edges.js';
export { areSeveral, type Several } from '../collections/non-empty.js';
export { wrongGateways, type GatewayFault } from '../model/hosts/wrong-gateways.js';
export { reachesGateway } from '../model/hosts/own-subnet.js';
export { meetingInterfaces } from '../model/hosts/meeting-interfaces.js';
export { fixedAbroad, fixedInRange, largerPart, type FixedAddress } from '../model/hosts/fixed-in-range.js';
export { addressClashes } from '../model/hosts/address-clashes.js';
export { macClashes } from '../model/hosts/mac-clashes.js';
export { elementLabel, sharedLabel, type NamedElement, type SharedNote } from '../words/failures.js';
export { commonQueriers, type CommonQuerier } from '../model/network/common-queriers.js';
export { doubledLegs, doubledVlans, type DoubledLegs } from '../model/streams/doubled-legs.js';
export { causeOf, onlyLeg } from './only-leg.js';
export { lacksSecondLeg, type Habit, type LacksSecondLeg } from '../model/streams/lacks-second-leg.js';
export { halfTaken, type HalfTaken } from '../model/streams/half-taken.js';
export { idMeetings, leastWork, type IdMeeting, type MeetingForm } from '../model/vlans/id-meetings.js';
export { linkLocalAbroad } from '../model/groups/link-local-abroad.js';
export { brokenLegMap } from '../model/groups/broken-leg-map.js';
export { onOnePath, otherInterface, sharedByLegs, sharesSource } from '../model/groups/shared-by-legs.js';
export { secondLegGroup } from '../model/proposals/second-leg.js';
export { brokenPromises, homeNetworks, interfaceTowards } from '../model/groups/house-groups.js';
