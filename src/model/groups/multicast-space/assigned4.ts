import type { Prefix } from '../../../values/address.js';
import { constantAddress4 } from '../../../values/address-table.js';
import { LOCAL_SCOPE_4, ORGANIZATION_LOCAL_SCOPE_4, scopeRelativeOffset } from './scopes4.js';

/** An IPv4 group that belongs to a protocol, or lies where only scope-relative assignments may. */
export interface AssignedGroup {
  readonly group: number;
  /** As IANA's registry writes it; `unassigned` for a scope-relative offset nobody holds yet. */
  readonly name: string;
  /** The protocol in the trade's words. */
  readonly protocol: string;
  /** `individual`: this one address; `scope-relative`: an offset from the top of a scope (RFC 2365 §9). */
  readonly kind: 'individual' | 'scope-relative';
  /** False where the group is kept and belongs to no protocol yet. */
  readonly held: boolean;
  readonly citation: string;
}

/**
 * Who a group belongs to: an individual assignment, or a scope-relative one of the Local and the Organization Local
 * Scope. Assignments that no media network meets are left to the block they lie in.
 */
export function assignedGroup4(group: number): AssignedGroup | undefined {
  return (
    INDIVIDUAL.get(group) ??
    scopeRelativeGroup(group, LOCAL_SCOPE_4) ??
    scopeRelativeGroup(group, ORGANIZATION_LOCAL_SCOPE_4)
  );
}

/** What lies at a group in the top /24 of a scope (RFC 2365 §9); undefined when the group lies elsewhere. */
export function scopeRelativeGroup(group: number, scope: Prefix): AssignedGroup | undefined {
  const offset = scopeRelativeOffset(group, scope);
  if (offset === undefined) return undefined;
  const { name, protocol } = SCOPE_RELATIVE.get(offset) ?? UNASSIGNED_OFFSET;
  return {
    group,
    name,
    protocol,
    kind: 'scope-relative',
    held: protocol !== KEPT,
    citation: `RFC 2365 §9, offset ${offset}`,
  };
}

/** Offsets nobody holds. */
const KEPT = 'reserved, scope-relative';

const REGISTRY = 'IANA IPv4 Multicast Address Space Registry';

/** Names are those of the registry (updated 2024-02-02); RFCs are the registry's references where it has one. */
export const ASSIGNED_GROUPS_4: readonly AssignedGroup[] = [
  individual('224.0.0.0', 'Base Address (Reserved)', 'reserved base address', 'RFC 1112 §4'),
  individual('224.0.0.1', 'All Systems on this Subnet', 'all hosts', 'RFC 1112 §4'),
  individual('224.0.0.2', 'All Routers on this Subnet', 'all routers', REGISTRY),
  individual('224.0.0.4', 'DVMRP Routers', 'DVMRP', 'RFC 1075'),
  individual('224.0.0.5', 'OSPFIGP OSPFIGP All Routers', 'OSPF', 'RFC 2328'),
  individual('224.0.0.6', 'OSPFIGP OSPFIGP Designated Routers', 'OSPF', 'RFC 2328'),
  individual('224.0.0.9', 'RIP2 Routers', 'RIP', 'RFC 1723'),
  individual('224.0.0.10', 'EIGRP Routers', 'EIGRP', 'RFC 7868'),
  individual('224.0.0.12', 'DHCP Server / Relay Agent', 'DHCP', REGISTRY),
  individual('224.0.0.13', 'All PIM Routers', 'PIM', REGISTRY),
  individual('224.0.0.14', 'RSVP-ENCAPSULATION', 'RSVP', REGISTRY),
  individual('224.0.0.18', 'VRRP', 'VRRP', 'RFC 3768'),
  individual('224.0.0.19', 'IPAllL1ISs', 'IS-IS', REGISTRY),
  individual('224.0.0.20', 'IPAllL2ISs', 'IS-IS', REGISTRY),
  individual('224.0.0.21', 'IPAllIntermediate Systems', 'IS-IS', REGISTRY),
  individual('224.0.0.22', 'IGMP', 'IGMP', REGISTRY),
  individual('224.0.0.24', 'OSPFIGP-TE', 'OSPF', 'RFC 4973'),
  individual('224.0.0.25', 'router-to-switch', 'router-to-switch control', REGISTRY),
  individual('224.0.0.28', 'ETC Control', 'lighting control', REGISTRY),
  individual('224.0.0.102', 'HSRP', 'HSRP', REGISTRY),
  individual('224.0.0.106', 'All-Snoopers', 'multicast router discovery', 'RFC 4286'),
  individual('224.0.0.107', 'PTP-pdelay', 'PTP', REGISTRY),
  individual('224.0.0.109', 'LL-MANET-Routers', 'MANET routing', 'RFC 5498'),
  individual('224.0.0.111', 'Babel', 'Babel', 'RFC 8966'),
  individual('224.0.0.112', 'MMA Device Discovery', 'MIDI device discovery', REGISTRY),
  individual('224.0.0.251', 'mDNS', 'mDNS', 'RFC 6762'),
  individual('224.0.0.252', 'Link-local Multicast Name Resolution', 'LLMNR', 'RFC 4795'),
  individual('224.0.0.253', 'Teredo', 'Teredo', 'RFC 4380'),
  individual('224.0.0.254', 'RFC3692-style Experiment (*)', 'experiments', 'RFC 4727'),
  individual('224.0.1.1', 'NTP Network Time Protocol', 'NTP', 'RFC 5905'),
  individual('224.0.1.22', 'SVRLOC', 'SLP', REGISTRY),
  individual('224.0.1.32', 'mtrace', 'multicast traceroute', REGISTRY),
  individual('224.0.1.35', 'SVRLOC-DA', 'SLP', REGISTRY),
  individual('224.0.1.39', 'cisco-rp-announce', 'PIM rendezvous point announcement', REGISTRY),
  individual('224.0.1.40', 'cisco-rp-discovery', 'PIM rendezvous point discovery', REGISTRY),
  individual('224.0.1.68', 'mdhcpdisover', 'MADCAP', 'RFC 2730'),
  individual('224.0.1.75', 'SIP', 'SIP', REGISTRY),
  individual('224.0.1.76', 'IAPP', 'IAPP', REGISTRY),
  individual('224.0.1.84', 'jini-announcement', 'Jini', REGISTRY),
  individual('224.0.1.85', 'jini-request', 'Jini', REGISTRY),
  individual('224.0.1.129', 'PTP-primary', 'PTP', REGISTRY),
  individual('224.0.1.130', 'PTP-alternate1', 'PTP', REGISTRY),
  individual('224.0.1.131', 'PTP-alternate2', 'PTP', REGISTRY),
  individual('224.0.1.132', 'PTP-alternate3', 'PTP', REGISTRY),
  individual('224.0.1.169', 'rtv-audio', 'real-time video and audio', REGISTRY),
  individual('224.0.1.170', 'rtv-video', 'real-time video and audio', REGISTRY),
  individual('224.0.1.178', 'IEEE IAPP', 'IAPP', REGISTRY),
  individual('224.0.1.187', 'All CoAP Nodes', 'CoAP', 'RFC 7252'),
  individual('224.0.1.190', 'All CoRE Resource Directories', 'CoAP', 'RFC 9176'),
  individual('224.0.2.4', 'All C1222 Nodes', 'C12.22 metering', 'RFC 6142'),
  individual('224.0.2.9', 'DATV streams', 'digital amateur television', REGISTRY),
  individual('224.0.2.14', 'OPC Discovery', 'OPC', REGISTRY),
  individual('224.0.23.12', 'KNXnet/IP', 'KNX', REGISTRY),
  individual('224.0.23.14', 'DvbServDisc', 'DVB service discovery', REGISTRY),
  individual('224.0.23.42', 'Control for IP Video', 'video control', REGISTRY),
  individual('224.0.23.60', 'AtscSvcSig', 'ATSC service signalling', REGISTRY),
  individual('224.0.23.159', 'LXI-EVENT', 'LXI', REGISTRY),
  individual('224.0.23.175', 'QDP', 'QDP', REGISTRY),
  individual('224.0.23.177', 'AES discovery', 'AES discovery', REGISTRY),
  individual('224.2.127.254', 'SAPv1 Announcements', 'SAP', REGISTRY),
  individual('224.2.127.255', 'SAPv0 Announcements (deprecated)', 'SAP', REGISTRY),
];

const INDIVIDUAL: ReadonlyMap<number, AssignedGroup> = new Map(ASSIGNED_GROUPS_4.map((one) => [one.group, one]));

/** Offsets below the top of every scope, as IANA registers them. */
export const SCOPE_RELATIVE: ReadonlyMap<number, { readonly name: string; readonly protocol: string }> = new Map([
  [0, { name: 'SAP Session Announcement Protocol', protocol: 'SAP' }],
  [1, { name: 'MADCAP Protocol', protocol: 'MADCAP' }],
  [2, { name: 'SLPv2 Discovery', protocol: 'SLP' }],
  [3, { name: 'MZAP', protocol: 'MZAP' }],
  [4, { name: 'Multicast Discovery of DNS Services', protocol: 'DNS discovery' }],
  [5, { name: 'SSDP', protocol: 'SSDP' }],
  [6, { name: 'DHCP v4', protocol: 'DHCP' }],
  [7, { name: 'AAP', protocol: 'AAP' }],
  [8, { name: 'MBUS', protocol: 'Mbus' }],
  [9, { name: 'UPnP', protocol: 'UPnP' }],
  [10, { name: 'MCAST-TEST-NET-2', protocol: 'documentation' }],
  [253, { name: 'Reserved', protocol: KEPT }],
  [254, { name: 'RFC3692-style Experiment (*)', protocol: 'experiments' }],
]);

const UNASSIGNED_OFFSET = { name: 'Unassigned', protocol: KEPT };

function individual(address: string, name: string, protocol: string, citation: string): AssignedGroup {
  return { group: constantAddress4(address), name, protocol, kind: 'individual', held: true, citation };
}
