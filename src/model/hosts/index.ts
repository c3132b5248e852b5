/** Who holds which unicast address and MAC, and does each fit its subnet? */
export { type AddressClash, addressClashes, type ClashParts } from './address-clashes.js';
export {
  type Addressing,
  buildAddressing,
  comparePrefixes,
  forwards,
  gatewayFor,
  gatewaysOf,
  type Held,
  heldLabel,
  holderLabel,
  rigOf,
  routerAddress,
  type StatedGateway,
  type SubnetFit,
  subnetFor,
  subnetKey,
  votesOn,
} from './addressing.js';
export { type GatewayGround, type UnheldGateway, unheldGateways } from './gateway-holders.js';
export { commonRange, type DhcpEntry, mayBeOneServer, overlappingRanges, rangeWithout } from './dhcp-overlaps.js';
export { fixedAbroad, type FixedAddress, fixedInRange, largerPart } from './fixed-in-range.js';
export { hostAddressFault, type HostAddressFault, hostRange, hostsPerSubnet4 } from './host-addresses.js';
export { type MacClash, macClashes, type MacParts } from './mac-clashes.js';
export { isGroupMac, isLocalMac, type UnusableMac, unusableMac } from './mac-kinds.js';
export { meetingInterfaces, type MeetingInterfaces, type MeetingPlace } from './meeting-interfaces.js';
export { addressOf, ownPrefix, reachesGateway } from './own-subnet.js';
export { buildOwners, isInterface, type Owner, ownerLabel, type Owners } from './owners.js';
export { type SourceFault, sourceFault } from './source-address.js';
export {
  isDocumentation,
  isGloballyReachableUnicast,
  isLinkLocal,
  isLoopback,
  isPrivateUse,
  isUnspecified,
  specialPurpose,
  type SpecialPurpose,
} from './special-purpose.js';
export { type EdgeKind, type SubnetEdge, subnetEdge } from './subnet-edges.js';
export { type Overlap, overlapsOf, subnetEntries, type SubnetEntry } from './subnet-overlaps.js';
export { mostUsed4, type SubnetUse, subnetUse4 } from './subnet-use.js';
export { type AddressNeed, findUnaddressed, type Unaddressed } from './unaddressed.js';
export { createUnheld, takenWithoutAddress } from './unheld.js';
export { buildUnicastReach, type UnicastReach } from './unicast-reach.js';
export { type UnusualInterfaces, unusualInterfaces } from './unusual-interfaces.js';
export { findWrongVlans, type WrongVlan, type WrongVlans } from './wrong-vlans.js';
export { type GatewayFault, type GatewayParts, type WrongGateway, wrongGateways } from './wrong-gateways.js';
