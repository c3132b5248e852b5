/** Any-source groups that have to cross a router where nothing routes any-source groups. */
import { groupBy } from '../../collections/group-by.js';
import { kept } from '../../collections/kept.js';
import type { NonEmpty } from '../../collections/non-empty.js';
import { byLabel } from '../../collections/order.js';
import type { Leg, ReceiverLeg, RendezvousPoint, Rig, Vlan } from '../../plan/types.js';
import { inPrefix, isIPv4, type Address } from '../../values/address.js';
import { embeddedRendezvousPoint6, isSourceSpecific, isSourceSpecificFor } from '../groups/index.js';
import type { Domain, Domains } from '../vlans/index.js';
import type { Crossing } from './crossings.js';

/** A VLAN routes source-specific groups only, or no rendezvous point serves the groups (RFC 7761 §3.1). */
export type Why = 'sourceSpecificOnly' | 'noRendezvousPoint';

/** What is stuck for one cause: a VLAN that routes source-specific groups only, or an area without a rendezvous point. */
export interface Stuck {
  readonly why: Why;
  /** The VLANs that routing joins. */
  readonly area: Domain;
  /** Those at fault, by name. */
  readonly vlans: NonEmpty<Vlan>;
  readonly legs: readonly Leg[];
  readonly takers: readonly ReceiverLeg[];
}

export function stuckCrossings(crossings: readonly Crossing[], domains: Domains): readonly Stuck[] {
  const causes = groupBy(
    eachStuck(crossings, domains),
    ({ why, culprit, area }) => `${why} ${why === 'sourceSpecificOnly' ? culprit.name : ''} ${area.title}`,
  );
  return [...causes.values()].map((own) => {
    const [{ why, area, culprit }, ...others] = own;
    const more = new Set(others.map((one) => one.culprit).filter((one) => one !== culprit));
    return {
      why,
      area,
      vlans: byLabel([culprit, ...more], ({ name }) => name),
      legs: [...new Set(own.map(({ crossing }) => crossing.leg))],
      takers: [...new Set(own.map(({ crossing }) => crossing.by))],
    };
  });
}

interface OneStuck {
  readonly crossing: Crossing;
  readonly culprit: Vlan;
  readonly why: Why;
  readonly area: Domain;
}

function eachStuck(crossings: readonly Crossing[], domains: Domains): readonly OneStuck[] {
  const points = new Map<Domain, readonly RendezvousPoint[]>();
  return crossings.flatMap((crossing): readonly OneStuck[] => {
    const { leg, from, to, over } = crossing;
    if (leg.group === undefined || isSpecific(leg.group, leg.sender.rig)) return [];
    const area = domains.reach(leg);
    const ssm = [from, ...over, to].find(({ routing }) => routing?.mode === 'pim-ssm');
    if (ssm !== undefined) return [{ crossing, culprit: ssm, why: 'sourceSpecificOnly', area }];
    const own = kept(points, area, () => area.vlans.flatMap(({ routing }) => routing?.rendezvousPoints ?? []));
    return needsPoint(crossing) &&
      !isServed(
        leg.group,
        own.filter(({ address }) => crossing.reaches(address)),
      )
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
