/** What the rules of the family `igmp` alone ask for, beside `rule.ts`. */
export { boxTouch, citedFor, settingMark } from '../lint/segments.js';
export { isSourceSpecific } from '../model/groups/multicast-space/source-specific.js';
export { FILTERING_VERSION, severalToldApart } from '../model/groups/source-filter.js';
export { arrivingAt, blindSharings } from '../model/network/blind-sharing.js';
export { type Crossing, crossingsOf } from '../model/network/crossings.js';
export { type FloodedHost, floodFillsPorts, floodOfAll, floodOver, wantedByHost } from '../model/network/flood.js';
export type { Flow } from '../model/network/flows.js';
export {
  type Candidate,
  type GroupSegment,
  type Protocol,
  type VlanSetting,
  electionWinner,
  hostsIn,
} from '../model/network/group-segments.js';
export { loneQuerier, servingSeveralLegs } from '../model/network/lone-querier.js';
export { hasSourceSpecificGroup, oldVersions } from '../model/network/old-versions.js';
export { type QuerierFault, mayWin, querierFault } from '../model/network/querier-faults.js';
export { querierPlaces } from '../model/network/querier-places.js';
export { routersApart } from '../model/network/router-feet.js';
export { type SettingKey, type SettingValue, settingDifferences } from '../model/network/setting-differences.js';
export { sharedEdges } from '../model/network/shared-edges.js';
export { type Stuck, stuckCrossings } from '../model/network/stuck-crossings.js';
export { OLD_VERSION, type TimerFault, timerFaults } from '../model/network/timer-faults.js';
export {
  LONGEST_QUERY_INTERVAL_S,
  LONGEST_RESPONSE_S,
  membershipInterval,
  otherQuerierPresentInterval,
  timersOf,
} from '../model/network/timers.js';
export type { GroupManagement, RendezvousPoint } from '../plan/types.js';
export { formatSeconds } from '../values/quantity.js';
export {
  type QuerierFact,
  forgettingWords,
  hostPortWords,
  protocolName,
  querierFact,
  querierLabel,
  slowestWords,
  verbOf,
  vlansWords,
} from '../words/segments.js';
