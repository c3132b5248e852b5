/**
 * Types that results, findings and the model are made of: all that the other entries mention and do not export themselves.
 * A test holds the list complete.
 */
export type { ToldRefusal } from './allocate/allocate.js';
export type { Fullness } from './allocate/fullness.js';
export type { Refusal, RequestChange, RequestPath, Shortage } from './allocate/refusal.js';
export type {
  RequestFixed,
  RequestLine,
  RequestNetwork,
  RequestPattern,
  RequestSwitch,
  RequestVlan,
} from './allocate/request.js';
export type { Several } from './collections/non-empty.js';
export type {
  Box,
  ChangeSummary,
  Comparison,
  Step as CompareStep,
  StepAction,
  StepNetwork,
  StepPart,
} from './compare/steps.js';
export type { TextOptions } from './draw/text.js';
export type { BaselineEntry } from './lint/baseline.js';
export type { LabelledLocation, Wording } from './lint/finding.js';
export type { HeldSet } from './lint/held-sets.js';
export type { OnlyLeg } from './lint/only-leg.js';
export type { Profile as LintProfile } from './lint/profile.js';
export type { CrashedRule, FindingKey, NotJudged, PlanCounts, RuleInfo, WaivedFinding } from './lint/result.js';
export type { Rates as MediaRates } from './media/packet.js';
export type { SaidFormat, SayingProblem } from './media/parse-format.js';
export type { Ratio } from './media/ratio.js';
export type { FormatFacts, GeneralPacking, RateOptions, RateResult, StreamRate } from './media/types.js';
export type { Joined } from './merge/files.js';
export type { ClockMeeting, Meeting, OfRig, QuerierMeeting, RangeMeeting } from './merge/meeting.js';
export type { MergeOptions, Repaired } from './merge/merge.js';
export type { Repair } from './merge/repair/repair.js';
export type { Side } from './merge/sides.js';
export type { Budget, DelayGap, DelayItem, DelayPart, DelaySource } from './model/delay/budget.js';
export type { Hop as DelayHop } from './model/delay/chain.js';
export type { RigFamilies } from './model/delay/frame-families.js';
export type { Delays, LipSyncDelay, LipSyncVerdict, SpeechVerdict } from './model/delay/index.js';
export type { LipSyncLimit } from './model/delay/limits.js';
export type { ShortLinkOffset } from './model/delay/link-offset.js';
export type { ForeignDomain, ForeignReceiver, SplitReferenceClock } from './model/delay/reference-clock-faults.js';
export type { Why as ExplainWhy } from './model/explain/carry-why.js';
export type {
  FailureRow,
  FailureTable,
  Overload,
  StreamHit,
  Unjudged,
  UnjudgedWhy,
} from './model/explain/failure-table.js';
export type { Hop as ExplainHop, LinkHop, PortHop, SwitchHop } from './model/explain/trace-hops.js';
export type { Loss as ExplainLoss } from './model/explain/trace-losses.js';
export type { LegTrace, Stage, Trace, Unreached, UnreachedWhy } from './model/explain/trace.js';
export type { BrokenLegMap } from './model/groups/broken-leg-map.js';
export type { SharedEthernet } from './model/groups/ethernet-use.js';
export type { GroupFitness, Misplacement } from './model/groups/group-fitness.js';
export type { GroupRepeats } from './model/groups/group-repeats.js';
export type { GroupIndex } from './model/groups/group-use.js';
export type { AssignedGroup } from './model/groups/multicast-space/assigned4.js';
export type { AssignedGroup6 } from './model/groups/multicast-space/assigned6.js';
export type { GroupBlockKind } from './model/groups/multicast-space/blocks4.js';
export type { GroupProblem6, GroupProblemKind6 } from './model/groups/multicast-space/problems6.js';
export type { StrayFact, Strays } from './model/groups/strays.js';
export type { AddressClash, ClashParts } from './model/hosts/address-clashes.js';
export type { Addressing, StatedGateway } from './model/hosts/addressing.js';
export type { HostAddressFault } from './model/hosts/host-addresses.js';
export type { MacClash, MacParts } from './model/hosts/mac-clashes.js';
export type { MeetingInterfaces, MeetingPlace as HostMeetingPlace } from './model/hosts/meeting-interfaces.js';
export type { Owners } from './model/hosts/owners.js';
export type { SpecialPurpose } from './model/hosts/special-purpose.js';
export type { Overlap } from './model/hosts/subnet-overlaps.js';
export type { SubnetUse } from './model/hosts/subnet-use.js';
export type { UnicastReach } from './model/hosts/unicast-reach.js';
export type { GatewayParts, WrongGateway } from './model/hosts/wrong-gateways.js';
export type { Flooding } from './model/network/arrivals.js';
export type { BlindSharing } from './model/network/blind-sharing.js';
export type { CommonQuerier, PlannedQuerier } from './model/network/common-queriers.js';
export type { Conduct, KnownQuerier } from './model/network/conduct.js';
export type { CutTree } from './model/network/cut-tree.js';
export type {
  Element,
  ElementKind,
  Failure,
  Failures,
  Reception as NetworkReception,
  ReceptionLeg,
} from './model/network/failures.js';
export type { Flood } from './model/network/flood.js';
export type { ForwardingSegment, Network, Reached, Sink } from './model/network/flows.js';
export type { Carriage, Relief, Room } from './model/network/full-links.js';
export type { Unqueried } from './model/network/group-segments.js';
export type { TableUse } from './model/network/group-tables.js';
export type { Headroom } from './model/network/headroom.js';
export type { LinkUse, Span } from './model/network/link-use.js';
export type { LinkLoad, Load, PortLoad, RateOf } from './model/network/load.js';
export type { LoneQuerier } from './model/network/lone-querier.js';
export type { OldVersion } from './model/network/old-versions.js';
export type { LargePackets, UnsaidMtu } from './model/network/packet-sizes.js';
export type { PlaceFact } from './model/network/place-gap.js';
export type { QuerierPlace } from './model/network/querier-places.js';
export type { AfterLoss, Rerouted } from './model/network/rerouted.js';
export type { Edge, Segment } from './model/network/segment.js';
export type { SetValue, SettingDifference } from './model/network/setting-differences.js';
export type { SharedEdge } from './model/network/shared-edges.js';
export type { LonePoint } from './model/network/shared-fate.js';
export type { Why as NetworkWhy } from './model/network/stuck-crossings.js';
export type { Timers } from './model/network/timers.js';
export type { Step as NetworkStep, Tree } from './model/network/tree.js';
export type { Advisor, DestinationKind } from './model/proposals/destinations.js';
export type { Said } from './model/streams/description-differences.js';
export type { HalfTaken } from './model/streams/half-taken.js';
export type { LacksSecondLeg } from './model/streams/lacks-second-leg.js';
export type { MixedLimits } from './model/streams/mixed-limits.js';
export type { FlowRate, Rates as StreamRates } from './model/streams/rates.js';
export type { Reception as StreamReception } from './model/streams/reception.js';
export type { NoAgreement, Overruled } from './model/timing/agreement.js';
export type { OddIntervals } from './model/timing/announce-intervals.js';
export type { ClockQuality, Decision, Step as TimingStep } from './model/timing/bmca.js';
export type { ClockLoad, ClockPortLoad } from './model/timing/clock-load.js';
export type { ClockRole, Reason } from './model/timing/clock-role.js';
export type { NamedClock } from './model/timing/clocks-by-name.js';
export type { ClockFact, ClockFacts } from './model/timing/clocks.js';
export type { CrossingStream, DomainCrossing, UnplannedDomain } from './model/timing/domain-crossings.js';
export type {
  ClockOutcome,
  Election,
  ElectionClock,
  ElectionPort,
  PortOutcome,
  PortState,
} from './model/timing/election.js';
export type { EndDeviceTakeover } from './model/timing/end-device-takeover.js';
export type { Handover, LossKind, LossResult, NamedLoss } from './model/timing/failover.js';
export type { FollowerPair, Impatient, Timing } from './model/timing/index.js';
export type { Leaderless } from './model/timing/leaderless.js';
export type { MessageLoad } from './model/timing/message-load.js';
export type { Attachment, Needs, PathSection } from './model/timing/paths.js';
export type { ClockFault, DomainFault } from './model/timing/profile-faults.js';
export type {
  Intervals,
  OutOfProfile,
  Profile as TimingProfile,
  ProfileKey,
  PtpAddresses,
  Setting,
  SettingOverSync,
  Sourced,
} from './model/timing/profiles.js';
export type { AnnounceTolerance, TakeoverTimes } from './model/timing/takeover-time.js';
export type { ClockPort, Loss as TimingLoss, Outcome, TimingGroup, TimingState } from './model/timing/timing.js';
export type { PtpSurroundings, TransportSplit, Unaware } from './model/timing/ways.js';
export type { LeaderWithoutReference, UnintendedLeader } from './model/timing/wrong-leaders.js';
export type { Attached } from './model/vlans/domain.js';
export type { Domains, VlanJoin } from './model/vlans/domains.js';
export type { MeetingPlace as VlanMeetingPlace } from './model/vlans/id-meetings.js';
export type { IdleJoin, MergedVlans } from './model/vlans/join-faults.js';
export type { SplitVlan } from './model/vlans/joined-vlans.js';
export type { LinkDifference } from './model/vlans/link-differences.js';
export type { MtuStep } from './model/vlans/mtus.js';
export type { RateDifference, RatedPort } from './model/vlans/rate-differences.js';
export type { SharedFacts } from './model/vlans/shared-vlans.js';
export type { KnownEnd, Tag } from './model/vlans/trunks.js';
export type { Unrouted } from './model/vlans/unrouted.js';
export type { VlanGap } from './model/vlans/vlan-gaps.js';
export type { AlikeNames } from './model/written/alike-names.js';
export type { LostName } from './model/written/lost-names.js';
export type { NamedEntity, Scope } from './model/written/namesakes.js';
export type { NamedFormat } from './model/written/usage.js';
export type { VlanOfAddress } from './plan/resolve/placement.js';
export type {
  DelayRequests,
  Description,
  Essence,
  House,
  Join,
  LegMapEntry,
  LinkEnd,
  LipSync,
  MediaTiming,
  MulticastMode,
  MulticastRouting,
  Named,
  NetworkRole,
  Origin,
  Practice,
  PtpDomain,
  PtpMode,
  PtpSettings,
  PtpTimings,
  Querier,
  RoundTrip,
  SnoopingKey,
  SwitchAddress,
} from './plan/types.js';
export type { BytesInput, NamedInput, TextInput } from './read/index.js';
export type {
  RawDevice,
  RawFormat,
  RawGroupManagement,
  RawHouse,
  RawInterface,
  RawJoin,
  RawLegMap,
  RawLink,
  RawLipSync,
  RawNamed,
  RawNetwork,
  RawNumbering,
  RawPlan,
  RawPractice,
  RawPtp,
  RawPtpDomain,
  RawPtpTimings,
  RawReceiver,
  RawReceiverLeg,
  RawRoundTrip,
  RawSender,
  RawSenderLeg,
  RawSwitch,
  RawSwitchPort,
  RawTiming,
  RawVlan,
  RawWaiver,
} from './read/raw-plan.js';
export type { ReadResult } from './read/result.js';
export type { Container, Document, Location, Locator, Place } from './source/document.js';
export type { Problem } from './source/problem.js';
export type { Path, PathStep } from './splice/path.js';
export type { WrittenEdit } from './splice/written.js';
export type { Address4, Address6Value } from './values/address.js';
export type { ClockIdentity } from './values/clock-identity.js';
export type { BurdenFacts, StrayRelief } from './words/loads.js';
