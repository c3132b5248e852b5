/** Where in a segment to put its queriers. */
import { byLabel } from '../../collections/order.js';
import type { Switch } from '../../plan/types.js';
import type { Address } from '../../values/address.js';
import type { Addressing } from '../hosts/index.js';
import { addressesOn, type GroupSegment } from './group-segments.js';

export interface QuerierPlace {
  readonly on: Switch;
  /** An address it holds there and can query from, the lowest. */
  readonly from: Address | undefined;
}

/**
 * The two switches with most links in the segment, where a querier costs the least extra traffic; a known and lower
 * address first, as it wins (RFC 3376 §6.6.2).
 */
export function querierPlaces(segment: GroupSegment, addressing: Addressing): readonly QuerierPlace[] {
  if (segment.forwarding === undefined) return [];
  const { nodes, nodeOf, edgesAt } = segment.forwarding.segment;
  const links = (one: Switch): number => edgesAt[nodeOf.get(one) ?? -1]?.length ?? 0;
  const best = byLabel(nodes, (one) => one.name)
    .toSorted((a, b) => links(b) - links(a))
    .slice(0, 2);
  const places = best.map((on): QuerierPlace => {
    const held = segment.domain.vlans.flatMap((vlan) => addressesOn(on, vlan, segment.protocol, addressing));
    return { on, from: held.toSorted((a, b) => (a < b ? -1 : 1))[0] };
  });
  return places.toSorted(({ from: a }, { from: b }) => {
    if (a === undefined || b === undefined) return Number(a === undefined) - Number(b === undefined);
    return a < b ? -1 : 1;
  });
}
