/** What the rules of the family `timing` alone ask for, beside `rule.ts`. */
export { clockMark, clockSubject, clockTouch, islandSubject } from '../lint/clock-marks.js';
export { type Advantage, advantageOf, isOpenBetween } from '../model/timing/advantage.js';
export {
  type FirstPlace,
  firstPlaceFor,
  overruledLeaders,
  tieBetween,
  withoutAgreement,
} from '../model/timing/agreement.js';
export { oddAnnounceIntervals } from '../model/timing/announce-intervals.js';
export { compareQualities } from '../model/timing/bmca.js';
export { clocksByName } from '../model/timing/clocks-by-name.js';
export type { ClockOwner } from '../model/timing/clocks.js';
export { domainCrossings, unplannedDomains } from '../model/timing/domain-crossings.js';
export { endDeviceTakeover } from '../model/timing/end-device-takeover.js';
export { lossOfClocks, lossOfLinks } from '../model/timing/failover.js';
export {
  intendedLeaders,
  isEndDevice,
  isPlaced,
  isTraceable,
  isUntraceable,
  leadersElsewhere,
  mayLead,
  settledIslands,
} from '../model/timing/intent.js';
export { leaderless } from '../model/timing/leaderless.js';
export { type ProfileFault, admittedDefault, clockFaults, domainFaults } from '../model/timing/profile-faults.js';
export { type IntervalKey, PTP_ADDRESSES, outOfProfile } from '../model/timing/profiles.js';
export type { Span } from '../model/timing/takeover-time.js';
export { tiedLeaders } from '../model/timing/ties.js';
export type { Clock, Island, Leader } from '../model/timing/timing.js';
export { ptpHostsIn, splitByTransport, unawareSwitches } from '../model/timing/ways.js';
export { type Victory, keyOfVictory, wrongLeaders } from '../model/timing/wrong-leaders.js';
export { isCircuit } from '../model/vlans/trunks.js';
export type { DelayMechanism, PtpTransport } from '../plan/types.js';
export { formatClockIdentity } from '../values/clock-identity.js';
export { advantageWords, spanWords } from '../words/clocks.js';
