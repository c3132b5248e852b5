/** What the rules of the family `vlans` alone ask for, beside `rule.ts`. */
export { placeOf } from '../plan/place.js';
export { blockedWays, type TreeDoubt } from '../model/network/index.js';
export { listsWithout } from '../words/lacking-links.js';
export { treeDoubtWords } from '../words/spanning-tree.js';
export {
  createNearestVlanIds,
  cutWays,
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
} from '../model/vlans/index.js';
