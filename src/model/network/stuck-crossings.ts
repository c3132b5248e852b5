/** Any-source groups that have to cross a router where nothing routes any-source groups. */
import { kept } from '../../collections/kept.js';
import type { RendezvousPoint, Rig, Vlan } from '../../plan/types.js';
import { inPrefix, isIPv4, type Address } from '../../values/address.js';
import { embeddedRendezvousPoint6, isSourceSpecific } from '../groups/multicast-space/index.js';
import { isSourceSpecificFor } from '../groups/source-filter.js';
import type { Domain, Domains } from '../vlans/domains.js';
import type { Crossing } from './crossings.js';

export interface StuckCrossing {
  readonly crossing: Crossing;
  readonly culprit: Vlan;
  /** A VLAN routes source-specific groups only, or no rendezvous point serves the group (RFC 7761 §3.1). */
  readonly why: 'sourceSpecificOnly' | 'noRendezvousPoint';
  /** The VLANs that routing joins. */
  readonly area: Domain;
}

export function stuckCrossings(crossings: readonly Crossing[], domains: Domains): readonly StuckCrossing[] {
  const points = new Map<Domain, readonly RendezvousPoint[]>();
  return crossings.flatMap((crossing): readonly StuckCrossing[] => {
    const { leg, from, to } = crossing;
    if (leg.group === undefined || isSpecific(leg.group, leg.sender.rig)) return [];
    const area = domains.reach(leg);
    const ssm = [from, to].find(({ routing }) => routing?.mode === 'pim-ssm');
    if (ssm !== undefined) return [{ crossing, culprit: ssm, why: 'sourceSpecificOnly', area }];
    const own = kept(points, area, () => area.vlans.flatMap(({ routing }) => routing?.rendezvousPoints ?? []));
    return needsPoint(crossing) && !isServed(leg.group, own)
      ? [{ crossing, culprit: from, why: 'noRendezvousPoint', area }]
      : [];
  });
}

function isSpecific(group: Address, rig: Rig): boolean {
  return isSourceSpecificFor(rig, group) || isSourceSpecific(group);
}

/** A receiver that names the source is joined straight to it, without a rendezvous point. */
function needsPoint({ by }: Crossing): boolean {
  return by.join !== 'stated' && (by.source === undefined || by.join === 'any');
}

/** Whether a rendezvous point of the routed area serves the group, or the group carries its own (RFC 3956 §3). */
function isServed(group: Address, points: readonly RendezvousPoint[]): boolean {
  if (!isIPv4(group) && embeddedRendezvousPoint6(group) !== undefined) return true;
  return points.some(
    ({ address, groups }) =>
      isIPv4(address) === isIPv4(group) && (groups === undefined || groups.some((prefix) => inPrefix(group, prefix))),
  );
}
