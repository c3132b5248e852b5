/** Where receivers tell senders of one group apart by their source, and where they cannot. */
import { inPrefix, isIPv4, type Address } from '../../values/address.js';
import type { Rig, Vlan } from '../../plan/types.js';
import type { GroupUse } from './group-use.js';

/** First version that carries source filters: IGMPv3 (RFC 3376 §1) and MLDv2 (RFC 3810 §1). */
export const FILTERING_VERSION = { igmp: 3, mld: 2 } as const;

/** Whether the plan's practice makes a group source-specific. */
export function isSourceSpecificFor(rig: Rig, group: Address): boolean {
  return rig.practice.sourceSpecific.some((prefix) => inPrefix(group, prefix));
}

/**
 * Whether the plan means receivers of a group to tell its senders apart by source: each leg has a source of its own,
 * and the group is source-specific, or else every leg states its source in a VLAN whose IGMP or MLD version is stated.
 */
export function toldApartBySource(use: GroupUse): boolean {
  const sources = new Set(use.legs.map((leg) => leg.source));
  if (sources.has(undefined) || sources.size < use.legs.length) return false;
  return (
    use.legs.every((leg) => isSourceSpecificFor(leg.sender.rig, use.group)) ||
    use.legs.every((leg) => leg.sourceStated && filtersSources(leg.vlan, use.group) !== undefined)
  );
}

/** Whether hosts of a VLAN can join a single source of a group; undefined when the plan states no version. */
export function filtersSources(vlan: Vlan | undefined, group: Address): boolean | undefined {
  const version = isIPv4(group) ? vlan?.igmp?.version : vlan?.mld?.version;
  if (version === undefined) return undefined;
  return version >= (isIPv4(group) ? FILTERING_VERSION.igmp : FILTERING_VERSION.mld);
}

/** Whether receivers must tell several streams of one group apart by source, which `sources/not-filtered` judges. */
export function severalToldApart(use: GroupUse): boolean {
  return new Set(use.legs.map((leg) => leg.sender)).size > 1 && toldApartBySource(use);
}
