/** Streams that send both legs to one group where they meet, and what would part them. */
import { groupBy } from '../../collections/group-by.js';
import type { NonEmpty } from '../../collections/non-empty.js';
import type { Interface, Leg } from '../../plan/types.js';
import { isMulticast } from '../../values/address.js';
import type { GroupUse } from './group-use.js';
import { toldApartBySource } from './source-filter.js';

/** The part of a use that is one stream's, for each stream with several legs in it that receivers cannot tell apart. */
export function sharedByLegs(use: GroupUse): readonly (GroupUse & { readonly legs: NonEmpty<Leg> })[] {
  if (!isMulticast(use.group)) return [];
  return [...groupBy(use.legs, (leg) => leg.sender).values()]
    .map((legs) => ({ ...use, legs }))
    .filter((part) => part.legs.length > 1 && !toldApartBySource(part));
}

/** Same source and same group: the network cannot tell the copies apart (RFC 7198 §3.1). */
export function sharesSource(legs: readonly Leg[]): boolean {
  const stated = legs.flatMap((leg) => leg.source ?? []);
  return new Set(stated).size < stated.length;
}

/** Two legs on one network are one path, whatever their groups. */
export function onOnePath(first: Leg, second: Leg): boolean {
  return (
    (first.interface !== undefined && first.interface === second.interface) ||
    (first.vlan !== undefined && first.vlan === second.vlan)
  );
}

/** The device's interface on a network of that leg number, else its only one on another network for media. */
export function otherInterface(first: Leg, second: Leg): Interface | undefined {
  const others = (first.sender.device?.interfaces ?? []).filter(
    ({ network }) => network !== undefined && network !== first.network,
  );
  const byNumber = others.filter(({ network }) => network?.leg === second.index + 1);
  const media =
    byNumber.length > 0
      ? byNumber
      : others.filter(({ network }) => network?.role === undefined || network.role === first.network?.role);
  return media.length === 1 ? media[0] : undefined;
}
