/** Segments whose IGMP or MLD version knows no sources, though somebody in them relies on sources. */
import { append } from '../../collections/group-by.js';
import { isNonEmpty, type NonEmpty } from '../../collections/non-empty.js';
import type { Interface, Leg, Plan, ReceiverLeg } from '../../plan/types.js';
import { unusualInterfaces } from '../hosts/index.js';
import type { Domains } from '../vlans/index.js';
import { FILTERING_VERSION, type GroupIndex, isSourceSpecificFor, severalToldApart } from '../groups/index.js';
import type { GroupSegment, Protocol, VlanSetting } from './group-segments.js';
import { ownVersion, speaksNoSources } from './join-filter.js';

export interface OldVersion {
  readonly segment: GroupSegment;
  /** VLAN entries that state the old version, one at least. */
  readonly settings: NonEmpty<VlanSetting & { readonly version: number }>;
  /** Legs sent to a source-specific group. */
  readonly legs: readonly Leg[];
  /** Receiver legs that name a source. */
  readonly receivers: readonly ReceiverLeg[];
}

/** Without groups that several streams share by source, which `sources/not-filtered` judges. */
export function oldVersions(
  segments: readonly GroupSegment[],
  domains: Domains,
  groups: GroupIndex,
): readonly OldVersion[] {
  const shared = sharedIn(domains, groups);
  return segments.flatMap((segment): readonly OldVersion[] => {
    const needed = FILTERING_VERSION[segment.protocol];
    const settings = segment.settings.flatMap((setting) => {
      const { version } = setting.management;
      return version === undefined || version >= needed ? [] : [{ ...setting, version }];
    });
    if (!isNonEmpty(settings)) return [];
    const legs = segment.sent.filter((leg) => hasSourceSpecificGroup(leg) && !shared(leg));
    const receivers = segment.taken.filter((leg) => joinsBySource(leg) && !shared(leg));
    return legs.length + receivers.length === 0 ? [] : [{ segment, settings, legs, receivers }];
  });
}

/** One host whose version knows no sources, where its VLAN's does or states none. */
export interface OldHost {
  readonly host: Interface;
  readonly protocol: Protocol;
  readonly version: number;
  /** Its receiver legs that join by source, or a source-specific group. */
  readonly receivers: NonEmpty<ReceiverLeg>;
}

/** In plan order. A VLAN of an old version makes every host speak it: `oldVersions` has it. */
export function oldHosts(
  plan: Plan,
  segments: readonly GroupSegment[],
  domains: Domains,
  groups: GroupIndex,
): readonly OldHost[] {
  if (unusualInterfaces(plan).ownVersion.length === 0) return [];
  const shared = sharedIn(domains, groups);
  return segments.flatMap(({ protocol, settings, taken }): readonly OldHost[] => {
    const needed = FILTERING_VERSION[protocol];
    if (settings.some(({ management: { version } }) => version !== undefined && version < needed)) return [];
    const found = new Map<Interface, [ReceiverLeg, ...ReceiverLeg[]]>();
    for (const leg of taken) {
      if (leg.interface === undefined || !speaksNoSources(leg) || shared(leg)) continue;
      if (joinsBySource(leg) || hasSourceSpecificGroup(leg)) append(found, leg.interface, leg);
    }
    return [...found].map(([host, receivers]) => ({
      host,
      protocol,
      version: ownVersion(host, receivers[0].group) ?? needed,
      receivers,
    }));
  });
}

/** Whether several streams share a leg's group and are told apart by source. */
function sharedIn(domains: Domains, groups: GroupIndex): (leg: Leg | ReceiverLeg) => boolean {
  return (leg) => {
    const use = leg.group === undefined ? undefined : groups.find(domains.reach(leg), leg.group);
    return use !== undefined && use.legs.length > 1 && severalToldApart(use);
  };
}

/** Whether the rig's practice makes the group of a leg source-specific. */
export function hasSourceSpecificGroup(leg: Leg | ReceiverLeg): boolean {
  const { rig } = 'sender' in leg ? leg.sender : leg.receiver;
  return leg.group !== undefined && isSourceSpecificFor(rig, leg.group);
}

function joinsBySource(leg: ReceiverLeg): boolean {
  return leg.join === 'stated' || (leg.source !== undefined && leg.join !== 'any');
}
