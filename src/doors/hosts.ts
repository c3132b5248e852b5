/** What the rules of the family `hosts` alone ask for, beside `rule.ts`. */
export { areSeveral } from '../collections/non-empty.js';
export { heldSubject } from '../lint/held-marks.js';
export { type WholeSubnet, heldSetDraft, heldSets } from '../lint/held-sets.js';
export { addressClashes } from '../model/hosts/address-clashes.js';
export { type SubnetFit, holderLabel, votesOn } from '../model/hosts/addressing.js';
export { type FixedAddress, fixedAbroad, fixedInRange, largerPart } from '../model/hosts/fixed-in-range.js';
export { hostAddressFault } from '../model/hosts/host-addresses.js';
export { macClashes } from '../model/hosts/mac-clashes.js';
export { type UnusableMac, isGroupMac, isLocalMac, unusableMac } from '../model/hosts/mac-kinds.js';
export { meetingInterfaces } from '../model/hosts/meeting-interfaces.js';
export { reachesGateway } from '../model/hosts/own-subnet.js';
export { isGloballyReachableUnicast, specialPurpose } from '../model/hosts/special-purpose.js';
export { type EdgeKind, type SubnetEdge, subnetEdge } from '../model/hosts/subnet-edges.js';
export { type GatewayFault, wrongGateways } from '../model/hosts/wrong-gateways.js';
export { freeStretch } from '../model/proposals/free-stretch.js';
export type { Proposals } from '../model/proposals/proposals.js';
export type { Mac } from '../values/mac.js';
export { heldWords } from '../words/held.js';
