/** What the rules of the family `vlans` alone ask for, beside `rule.ts`. */
export { placeOf } from '../plan/place.js';
export { blockedWays, type TreeDoubt } from '../model/network/index.js';
export { lackingMarks } from '../lint/lacking-marks.js';
export { listsWithout } from '../words/lacking-links.js';
export { treeDoubtWords } from '../words/spanning-tree.js';
export {
  createNearestVlanIds,
  HIGHEST_VLAN_ID,
  type IdMeeting,
  idMeetings,
  isVlanId,
  lackingAt,
  type LackingLink,
  leastWork,
  LOWEST_VLAN_ID,
  type MeetingForm,
  missingLinks,
  type Patched,
  type Member,
  splitSubnets,
  splitVlans,
  unroutedPairs,
  vlanGaps,
} from '../model/vlans/index.js';
