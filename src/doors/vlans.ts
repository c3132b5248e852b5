/** What the rules of the family `vlans` alone ask for, beside `rule.ts`. */
export { type IdMeeting, type MeetingForm, idMeetings, leastWork } from '../model/vlans/id-meetings.js';
export { HIGHEST_VLAN_ID, LOWEST_VLAN_ID, createNearestVlanIds, isVlanId } from '../model/vlans/ids.js';
export { splitVlans } from '../model/vlans/joined-vlans.js';
export { missingLinks } from '../model/vlans/missing-links.js';
export { tagOf } from '../model/vlans/trunks.js';
export { unroutedPairs } from '../model/vlans/unrouted.js';
export { type Patched, vlanGaps } from '../model/vlans/vlan-gaps.js';
