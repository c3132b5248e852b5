/** Segments whose IGMP or MLD version knows no sources, though somebody in them relies on sources. */
import { isNonEmpty, type NonEmpty } from '../../collections/non-empty.js';
import type { Leg, ReceiverLeg } from '../../plan/types.js';
import type { Domains } from '../vlans/index.js';
import { FILTERING_VERSION, type GroupIndex, isSourceSpecificFor, severalToldApart } from '../groups/index.js';
import type { GroupSegment, VlanSetting } from './group-segments.js';

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
  const shared = (leg: Leg | ReceiverLeg): boolean => {
    const use = leg.group === undefined ? undefined : groups.find(domains.reach(leg), leg.group);
    return use !== undefined && use.legs.length > 1 && severalToldApart(use);
  };
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

/** Whether the rig's practice makes the group of a leg source-specific. */
export function hasSourceSpecificGroup(leg: Leg | ReceiverLeg): boolean {
  const { rig } = 'sender' in leg ? leg.sender : leg.receiver;
  return leg.group !== undefined && isSourceSpecificFor(rig, leg.group);
}

function joinsBySource(leg: ReceiverLeg): boolean {
  return leg.join === 'stated' || (leg.source !== undefined && leg.join !== 'any');
}
