/** What the rules of the family `subnets` alone ask for, beside `rule.ts`. */
export {
  commonRange,
  type DhcpEntry,
  gatewayFor,
  gatewaysOf,
  hostRange,
  hostsPerSubnet4,
  mayBeOneServer,
  mostUsed4,
  overlappingRanges,
  overlapsOf,
  rangeWithout,
  subnetEntries,
  type SubnetEntry,
  subnetUse4,
  type UnheldGateway,
  unheldGateways,
} from '../model/hosts/index.js';
export type { AddressRange } from '../values/address.js';
