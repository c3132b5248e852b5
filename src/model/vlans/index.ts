/** Which VLANs and switched domains are there, what carries them, and where do they differ? */
export type { Attached } from './domain.js';
export { createCuts, type Cut } from './cuts.js';
export { buildDomains, type Domain, type Domains, type VlanJoin } from './domains.js';
export { type HalfRouted, halfRouted } from './half-routed.js';
export { type IdMeeting, idMeetings, leastWork, type MeetingForm, type MeetingPlace } from './id-meetings.js';
export { createFreeVlanIds, createNearestVlanIds, HIGHEST_VLAN_ID, isVlanId, LOWEST_VLAN_ID } from './ids.js';
export { type IdleJoin, idleJoins, mergedVlans, type MergedVlans } from './join-faults.js';
export { joinClasses, type SplitVlan, splitVlans } from './joined-vlans.js';
export { linkDifference, type LinkDifference } from './link-differences.js';
export { createKnownCuts, type CutWay, cutWays } from './cut-ways.js';
export { lackingAt, type LackingLink } from './lacking.js';
export { type MissingLinks, missingLinks } from './missing-links.js';
export { type Member, type SplitSubnet, splitSubnets } from './split-subnets.js';
export { mtuEntity, type MtuStep, type OddMtu, oddMtus, oncePerEntry, type SizedPort, smallPorts } from './mtus.js';
export { pairedNetworks } from './paired-networks.js';
export { type PortUse, portUses } from './port-uses.js';
export { rateDifference, type RateDifference, type RatedPort } from './rate-differences.js';
export { otherEntries, type SharedFacts, sharedVlans } from './shared-vlans.js';
export {
  isCircuit,
  type KnownEnd,
  linkEnds,
  linkLabel,
  mayCarry,
  portLabel,
  sameMeaning,
  type Tag,
  tagged,
  tagOf,
  untagged,
  vlansOfPort,
} from './trunks.js';
export { type Unrouted, unroutedPairs } from './unrouted.js';
export { type Patched, type VlanGap, vlanGaps } from './vlan-gaps.js';
