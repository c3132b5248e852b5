import { inPrefix, type AddressRange } from '../../../values/address.js';
import { constantAddress6, constantPrefix, findRange } from '../../../values/address-table.js';

/** A permanent assignment of IANA's IPv6 Multicast Address Space Registry. */
export interface AssignedGroup6 {
  readonly name: string;
  readonly protocol: string;
  readonly citation: string;
}

/**
 * Who a permanent IPv6 group (flags 0000) belongs to. Assignments of variable scope (ff0x) match in every scope.
 */
export function assignedGroup6(group: bigint): AssignedGroup6 | undefined {
  if (group >> 116n !== 0xff0n) return undefined;
  const fixed = FIXED_SCOPE.get(group);
  if (fixed !== undefined) return fixed;
  if (inPrefix(group, SOLICITED_NODE_GROUPS)) return SOLICITED_NODE;
  return findRange(VARIABLE_SCOPE, BigInt.asUintN(112, group))?.assigned;
}

/** RFC 4291 §2.7.1. */
const SOLICITED_NODE_GROUPS = constantPrefix('ff02::1:ff00:0/104');
const SOLICITED_NODE: AssignedGroup6 = {
  name: 'Solicited-Node Address',
  protocol: 'neighbour discovery',
  citation: 'RFC 4291 §2.7.1',
};
const REGISTRY = 'IANA IPv6 Multicast Address Space Registry';

const FIXED_SCOPE: ReadonlyMap<bigint, AssignedGroup6> = new Map(
  (
    [
      ['ff01::1', 'All Nodes Address', 'all nodes', 'RFC 4291 §2.7.1'],
      ['ff01::2', 'All Routers Address', 'all routers', 'RFC 4291 §2.7.1'],
      ['ff02::1', 'All Nodes Address', 'all nodes', 'RFC 4291 §2.7.1'],
      ['ff02::2', 'All Routers Address', 'all routers', 'RFC 4291 §2.7.1'],
      ['ff02::5', 'OSPFIGP', 'OSPF', 'RFC 2328'],
      ['ff02::6', 'OSPFIGP Designated Routers', 'OSPF', 'RFC 2328'],
      ['ff02::9', 'RIP Routers', 'RIP', 'RFC 2080'],
      ['ff02::a', 'EIGRP Routers', 'EIGRP', 'RFC 7868'],
      ['ff02::d', 'All PIM Routers', 'PIM', REGISTRY],
      ['ff02::e', 'RSVP-ENCAPSULATION', 'RSVP', REGISTRY],
      ['ff02::f', 'UPnP', 'UPnP', REGISTRY],
      ['ff02::12', 'VRRP', 'VRRP', 'RFC 5798'],
      ['ff02::16', 'All MLDv2-capable routers', 'MLD', 'RFC 3810 §11'],
      ['ff02::6a', 'All-Snoopers', 'multicast router discovery', 'RFC 4286'],
      ['ff02::6b', 'PTP-pdelay', 'PTP', REGISTRY],
      ['ff02::1:2', 'All-dhcp-agents', 'DHCP', 'RFC 8415'],
      ['ff02::1:3', 'Link-local Multicast Name Resolution', 'LLMNR', 'RFC 4795'],
      ['ff02::1:6', 'Babel', 'Babel', 'RFC 8966'],
      ['ff05::2', 'All Routers Address', 'all routers', 'RFC 4291 §2.7.1'],
      ['ff05::1:3', 'All-dhcp-servers', 'DHCP', 'RFC 8415'],
    ] as const
  ).map(([address, name, protocol, citation]) => [constantAddress6(address), { name, protocol, citation }]),
);

interface VariableScopeAssignment {
  readonly range: AddressRange;
  readonly assigned: AssignedGroup6;
}

/** Ranges of group IDs, in order, of assignments that hold in every scope. */
const VARIABLE_SCOPE: readonly VariableScopeAssignment[] = [
  variable(0x0n, 0x0n, 'Reserved Multicast Address', 'reserved', 'RFC 4291 §2.7.1'),
  variable(0xcn, 0xcn, 'SSDP', 'SSDP', REGISTRY),
  variable(0xfbn, 0xfbn, 'mDNSv6', 'mDNS', 'RFC 6762'),
  variable(0xfdn, 0xfdn, 'All CoAP Nodes', 'CoAP', 'RFC 7252'),
  variable(0x101n, 0x101n, 'Network Time Protocol (NTP)', 'NTP', 'RFC 5905'),
  variable(0x130n, 0x130n, 'UPnP', 'UPnP', REGISTRY),
  variable(0x138n, 0x138n, 'LXI-EVENT', 'LXI', REGISTRY),
  variable(0x181n, 0x181n, 'PTP-primary', 'PTP', REGISTRY),
  variable(0x182n, 0x182n, 'PTP-alternate1', 'PTP', REGISTRY),
  variable(0x183n, 0x183n, 'PTP-alternate2', 'PTP', REGISTRY),
  variable(0x184n, 0x184n, 'PTP-alternate3', 'PTP', REGISTRY),
  variable(0x11000n, 0x113ffn, 'Service Location, Version 2', 'SLP', 'RFC 3111'),
  variable(0x20000n, 0x27ffdn, 'Multimedia Conference Calls', 'SDP/SAP', REGISTRY),
  variable(0x27ffen, 0x27ffen, 'SAPv1 Announcements', 'SAP', REGISTRY),
  variable(0x27fffn, 0x27fffn, 'SAPv0 Announcements (deprecated)', 'SAP', REGISTRY),
  variable(0x28000n, 0x2ffffn, 'SAP Dynamic Assignments', 'SDP/SAP', REGISTRY),
  variable(0xdb800000000n, 0xdb8ffffffffn, 'Documentation Addresses', 'documentation', 'RFC 6676 §3'),
];

function variable(
  first: bigint,
  last: bigint,
  name: string,
  protocol: string,
  citation: string,
): VariableScopeAssignment {
  return { range: { first, last }, assigned: { name, protocol, citation } };
}
