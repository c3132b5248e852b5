/** Subjects, sources, places and hands-on things of the rules on IGMP and MLD. */
import type { Device, Switch, Vlan } from '../plan/types.js';
import type { GroupSegment, Protocol, VlanSetting } from '../model/network/index.js';
import type { Citation } from './citation.js';
import type { Mark, Touch } from './finding.js';
import { byLabel } from '../collections/order.js';
import { protocolName } from '../words/segments.js';
import { mark } from './marks.js';

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

/** Where a VLAN states a setting. */
export function settingMark({ vlan, management }: VlanSetting, key: string): Mark<never> {
  return mark(management, `VLAN ${vlan.name}`, key);
}

/** The switch or device, else the VLAN. */
export function boxTouch(box: Switch | Device | undefined, vlan: Vlan): Touch {
  if (box === undefined) return { kind: 'vlan', name: vlan.name };
  return { kind: 'ports' in box ? 'switch' : 'device', name: box.name };
}
