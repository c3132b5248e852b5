/** Who leads each PTP domain, who follows through what, and what does a loss change? */
export { adriftClocks } from './adrift.js';
export { type Advantage, advantageOf, isOpenBetween } from './advantage.js';
export {
  type FirstPlace,
  firstPlaceFor,
  type NoAgreement,
  type Overruled,
  overruledLeaders,
  tieBetween,
  withoutAgreement,
} from './agreement.js';
export { type Barrier, type Barriers, type FollowsOnly, type LeadsOnly, type OtherDomain } from './barriers.js';
export { oddAnnounceIntervals, type OddIntervals } from './announce-intervals.js';
export { type ClockQuality, compareQualities, type Decision, type Step } from './bmca.js';
export { buildTiming, type FollowerPair, type Impatient, type Timing } from './build-timing.js';
export type { ClockMoment, ClockWhen } from './clock-moments.js';
export type { Opening } from './in-time.js';
export type { ClockLoad, ClockPortLoad } from './clock-load.js';
export { type ClaimFault, type MisleadingClaim, misleadingClaims } from './claims.js';
export { classMeaning, isHoldoverClass } from './clock-quality.js';
export type { ClockRole, Reason } from './clock-role.js';
export { clocksByName, type NamedClock } from './clocks-by-name.js';
export { clocksOverUdp } from './over-udp.js';
export { type ClockFact, clockFacts, type ClockFacts, type ClockOwner, identityByMac, isSwitch } from './clocks.js';
export {
  type CrossingStream,
  type DomainCrossing,
  domainCrossings,
  type UnplannedDomain,
  unplannedDomains,
} from './domain-crossings.js';
export type { ClockOutcome, Election, ElectionClock, ElectionPort, PortOutcome, PortState } from './election.js';
export { endDeviceTakeover, type EndDeviceTakeover } from './end-device-takeover.js';
export {
  type Handover,
  type LossKind,
  lossOfClocks,
  lossOfLinks,
  type LossResult,
  type NamedLoss,
  namedLosses,
  type TakeoverTimes,
} from './failover.js';
export {
  intendedLeaders,
  isEndDevice,
  isPlaced,
  isTraceable,
  isUntraceable,
  leadersElsewhere,
  mayLead,
  settledIslands,
} from './intent.js';
export { type KeptLead, keptLead } from './kept-lead.js';
export { leaderless, type Leaderless } from './leaderless.js';
export { type OwnTime, type OwnTimeReason, ownTimes } from './own-time.js';
export { type ForgottenVlan, type OutOfReach, outOfReach } from './out-of-reach.js';
export { type MeetingPorts, meetingPorts } from './meeting-ports.js';
export type { MessageLoad } from './message-load.js';
export type { Attachment, Needs, PathSection } from './paths.js';
export {
  admittedDefault,
  type ClockFault,
  clockFaults,
  type DomainFault,
  domainFaults,
  type ProfileFault,
} from './profile-faults.js';
export {
  profileMeantByClocks,
  profileMeantByDomain,
  type ProfileUser,
  type UnknownProfile,
  unknownProfiles,
} from './profile-names.js';
export {
  type IntervalKey,
  type Intervals,
  outOfProfile,
  type OutOfProfile,
  type Profile,
  PROFILE_NAMES,
  type ProfileKey,
  PTP_ADDRESSES,
  type PtpAddresses,
  type Setting,
  type SettingOverSync,
  type TransparentMode,
  type Sourced,
} from './profiles.js';
export type { Span } from '../../values/span.js';
export type { AnnounceTolerance } from './takeover-time.js';
export type { Interim } from './timed/spans.js';
export { type SettingFault, settingFaults, type PtpSettingKey } from './setting-faults.js';
export { type SharedIdentity, sharedIdentities } from './shared-identities.js';
export { tiedLeaders } from './ties.js';
export type { Clock, ClockPort, Island, Leader, Loss, Outcome, TimingGroup, TimingState } from './timing.js';
export { type Untimed, untimedNetworks } from './untimed.js';
export {
  ptpHostsIn,
  type PtpSurroundings,
  splitByTransport,
  type TransportSplit,
  type Unaware,
  unawareSwitches,
} from './ways.js';
export {
  keyOfVictory,
  type LeaderWithoutReference,
  type UnintendedLeader,
  type Victory,
  wrongLeaders,
} from './wrong-leaders.js';
