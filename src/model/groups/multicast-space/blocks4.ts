import type { AddressRange } from '../../../values/address.js';
import { constantAddress4, findRange } from '../../../values/address-table.js';

export type GroupBlockKind =
  | 'local-network-control'
  | 'internetwork-control'
  | 'ad-hoc'
  | 'reserved'
  | 'sdp-sap'
  | 'dis-transient'
  | 'source-specific-reserved'
  | 'source-specific'
  | 'glop'
  | 'unicast-prefix'
  | 'administratively-scoped';

/** One block of 224.0.0.0/4 and the clause that gives it its meaning. */
export interface GroupBlock {
  readonly kind: GroupBlockKind;
  readonly title: string;
  readonly range: AddressRange;
  readonly citation: string;
}

/** The block of an IPv4 group. An address outside 224.0.0.0/4 (RFC 1112 §4) is a fault of the caller and throws. */
export function classifyGroup4(group: number): GroupBlock {
  const block = findRange(GROUP_BLOCKS_4, group);
  if (block === undefined) throw new RangeError(`not an IPv4 group: ${group}`);
  return block;
}

/**
 * All blocks in address order, without gap or overlap. The IANA registry is later than the table of RFC 5771 §3, so
 * 234/8 is unicast-prefix-based (RFC 6034) and 224.252/14 holds the DIS transient groups (RFC 2365 §6.3), where
 * RFC 5771 lists both as reserved.
 */
export const GROUP_BLOCKS_4: readonly GroupBlock[] = [
  block('local-network-control', 'Local Network Control Block', '224.0.0.0', '224.0.0.255', 'RFC 5771 §4'),
  block('internetwork-control', 'Internetwork Control Block', '224.0.1.0', '224.0.1.255', 'RFC 5771 §5'),
  block('ad-hoc', 'AD-HOC Block I', '224.0.2.0', '224.0.255.255', 'RFC 5771 §6'),
  block('reserved', 'Reserved', '224.1.0.0', '224.1.255.255', 'RFC 5771 §13'),
  block('sdp-sap', 'SDP/SAP Block', '224.2.0.0', '224.2.255.255', 'RFC 5771 §7'),
  block('ad-hoc', 'AD-HOC Block II', '224.3.0.0', '224.4.255.255', 'RFC 5771 §6'),
  block('reserved', 'Reserved', '224.5.0.0', '224.251.255.255', 'RFC 5771 §13'),
  block('dis-transient', 'DIS Transient Groups', '224.252.0.0', '224.255.255.255', 'RFC 2365 §6.3'),
  block('reserved', 'Reserved', '225.0.0.0', '231.255.255.255', 'RFC 5771 §13'),
  block(
    'source-specific-reserved',
    'Source-Specific Multicast Block, reserved for IANA',
    '232.0.0.0',
    '232.0.0.255',
    'RFC 4607 §4.3',
  ),
  block('source-specific', 'Source-Specific Multicast Block', '232.0.1.0', '232.255.255.255', 'RFC 5771 §8'),
  block('glop', 'GLOP Block', '233.0.0.0', '233.251.255.255', 'RFC 3180 §3'),
  block('ad-hoc', 'AD-HOC Block III', '233.252.0.0', '233.255.255.255', 'RFC 5771 §9.2'),
  block('unicast-prefix', 'Unicast-Prefix-Based Multicast Block', '234.0.0.0', '234.255.255.255', 'RFC 6034 §3'),
  block('reserved', 'Reserved', '235.0.0.0', '238.255.255.255', 'RFC 5771 §13'),
  block('administratively-scoped', 'Administratively Scoped Block', '239.0.0.0', '239.255.255.255', 'RFC 2365 §4'),
];

function block(kind: GroupBlockKind, title: string, first: string, last: string, citation: string): GroupBlock {
  return { kind, title, range: { first: constantAddress4(first), last: constantAddress4(last) }, citation };
}
