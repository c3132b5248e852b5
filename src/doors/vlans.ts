/** What the rules of the family `vlans` alone ask for, beside `rule.ts`. */
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
