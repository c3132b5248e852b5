/** What the rules of the family `hosts` alone ask for, beside `rule.ts`. */
export { type NetworkRole } from '../plan/types.js';
export { areSeveral, type Several } from '../collections/non-empty.js';
export { heldSubject } from '../lint/held-marks.js';
export { type WholeSubnet, heldSetDraft, heldSets } from '../lint/held-sets.js';
export {
  comparePrefixes,
  type EdgeKind,
  fixedAbroad,
  type FixedAddress,
  fixedInRange,
  type GatewayFault,
  holderLabel,
  hostAddressFault,
  isGloballyReachableUnicast,
  isGroupMac,
  isLocalMac,
  largerPart,
  macClashes,
  type MeetingInterfaces,
  meetingInterfaces,
  reachesGateway,
  specialPurpose,
  subnetEdge,
  type SubnetEdge,
  type SubnetFit,
  type UnusableMac,
  unusableMac,
  votesOn,
  type WrongGateway,
  type WrongVlan,
  wrongGateways,
} from '../model/hosts/index.js';
export {} from '../model/proposals/index.js';
export { vlanOfAddress } from '../plan/resolve/placement.js';
export { inRange } from '../values/address.js';
export type { Mac } from '../values/mac.js';
export { heldWords } from '../words/held.js';
