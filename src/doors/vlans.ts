/** What the rules of the family `vlans` alone ask for, beside `rule.ts`. */
export { placeOf } from '../plan/place.js';
export { blockedWays, type TreeDoubt } from '../model/network/index.js';
export { treeDoubtWords } from '../words/spanning-tree.js';
export {
  createNearestVlanIds,
  HIGHEST_VLAN_ID,
  type IdMeeting,
  idMeetings,
  isVlanId,
  leastWork,
  LOWEST_VLAN_ID,
  type MeetingForm,
  missingLinks,
  type Patched,
  splitVlans,
  tagOf,
  unroutedPairs,
  vlanGaps,
} from '../model/vlans/index.js';
