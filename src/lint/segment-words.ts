/** Words, places and hands-on things of the rules on IGMP and MLD. */
import { formatAddress } from '../values/address.js';
import { formatRate } from '../values/quantity.js';
import type { Device, Interface, Switch, Vlan } from '../plan/types.js';
import type { Candidate, GroupSegment, Protocol, VlanSetting } from '../model/network/group-segments.js';
import type { Flood } from '../model/network/flood.js';
import { portLabel } from '../model/vlans/trunks.js';
import type { Citation } from './citation.js';
import type { Mark, Touch } from './finding.js';
import { byLabel } from '../collections/order.js';
import { mark } from './marks.js';
import { listNames } from '../words/lists.js';

/** `IGMP` or `MLD`. */
export function protocolName(protocol: Protocol): string {
  return protocol === 'igmp' ? 'IGMP' : 'MLD';
}

/** Those of a rule's sources that bear on one protocol: the documents of the other are left out. */
export function citedFor(protocol: Protocol, sources: readonly Citation[]): readonly Citation[] {
  const other = DOCUMENTS[protocol === 'igmp' ? 'mld' : 'igmp'];
  return sources.filter((one) => !('document' in one) || !other.includes(one.document));
}

/** The documents that define each protocol. */
const DOCUMENTS: Readonly<Record<Protocol, readonly string[]>> = {
  igmp: ['RFC 2236', 'RFC 3376'],
  mld: ['RFC 2710', 'RFC 3810'],
};

/** `carries` of one VLAN, `carry` of several that are joined. */
export function verbOf({ vlans }: { readonly vlans: readonly Vlan[] }, one: string, several: string): string {
  return vlans.length > 1 ? several : one;
}

/** `turn snooping on in VLAN red-video, where red-core is planned to query`. */
export function snoopingWords(vlans: readonly string[], queriers: readonly string[], routed: boolean): string {
  const where = `turn snooping on in ${vlans.length === 1 ? 'VLAN' : 'VLANs'} ${listNames(vlans)}`;
  const names = byLabel([...new Set(queriers)], (name) => name);
  if (names.length > 0)
    return `${where}, where ${listNames(names, 3)} ${names.length === 1 ? 'is' : 'are'} planned to query`;
  return routed ? `${where}, where a multicast router queries` : `${where}, and ${QUERIER_WANTED}`;
}

/** What a VLAN without queriers needs, said alike by every rule. */
export const QUERIER_WANTED = 'let one switch query and another stand by';

/** `IGMP in red-video`. */
export function segmentSubject({ protocol, domain }: GroupSegment): string {
  return `${protocolName(protocol)} in ${domain.key}`;
}

/** The first of a segment's VLAN entries that states a key, else the first with settings. */
export function settingWith(
  { settings }: GroupSegment,
  states: (setting: VlanSetting) => boolean,
): VlanSetting | undefined {
  const sorted = byLabel(settings, ({ vlan }) => vlan.name);
  return sorted.find(states) ?? sorted[0];
}

/** Where a VLAN states a setting, labelled by the VLAN. */
export function settingMark({ vlan, management }: VlanSetting, note: string, key?: string): Mark {
  return mark(management, `VLAN ${vlan.name}: ${note}`, key);
}

/** `red-core (10.20.10.1)`. */
export function candidateLabel({ on, address, vlan }: Candidate): string {
  const name = on?.name ?? `a querier of ${vlan.name}`;
  return address === undefined ? name : `${name} (${formatAddress(address)})`;
}

/** The switch or device, else the VLAN. */
export function boxTouch(box: Switch | Device | undefined, vlan: Vlan): Touch {
  if (box === undefined) return { kind: 'vlan', name: vlan.name };
  return { kind: 'ports' in box ? 'switch' : 'device', name: box.name };
}

/** `mon-1 red at red-start/12 (1 Gbit/s)`. */
export function hostPortWords({ device, name, port }: Interface, rateBps: number | undefined): string {
  const at = port === undefined ? '' : ` at ${portLabel(port)}`;
  return `${device.name} ${name}${at}${rateBps === undefined ? '' : ` (${formatRate(rateBps)})`}`;
}

/** `1 stream`, `12 streams`. */
export function streamsWords(count: number): string {
  return `${count} ${count === 1 ? 'stream' : 'streams'}`;
}

/** What the hosts get without asking, at the one it hits hardest: `the slowest port, mon-1 red at red-start/12 (1 Gbit/s), gets 2.3 Gbit/s`. */
export function slowestWords(flood: Flood): string | undefined {
  const { slowest } = flood;
  if (slowest === undefined || slowest.floodBps <= 0) return undefined;
  const more = flood.unrated === 0 ? '' : ` and ${streamsWords(flood.unrated)} of unknown rate`;
  return `the slowest port, ${hostPortWords(slowest.host, slowest.rateBps)}, gets ${formatRate(slowest.floodBps)} nobody there asked for${more}`;
}
