/** What the rules of the family `subnets` alone ask for, beside `rule.ts`. */
export { gatewayFor, gatewaysOf } from '../model/hosts/addressing.js';
export {
  type DhcpEntry,
  commonRange,
  mayBeOneServer,
  overlappingRanges,
  rangeWithout,
} from '../model/hosts/dhcp-overlaps.js';
export { hostRange, hostsPerSubnet4 } from '../model/hosts/host-addresses.js';
export { type SubnetEntry, overlapsOf, subnetEntries } from '../model/hosts/subnet-overlaps.js';
export { mostUsed4, subnetUse4 } from '../model/hosts/subnet-use.js';
export { createFreeBlocks } from '../model/proposals/free-blocks.js';
export type { AddressRange } from '../values/address.js';
