import type { ConventionGroups, Leg } from '../../plan/types.js';
import type { Address } from '../../values/address.js';
import { imageOf, onOnePath } from '../groups/index.js';
import type { Proposals } from './proposals.js';

/** A group for the second of two legs that share one: what the conventions map the shared group to, wherever it is sent from. */
export function secondLegGroup(
  first: Leg,
  second: Leg,
  heldTo: (leg: Leg) => readonly ConventionGroups[],
  proposals: Proposals,
): Address | undefined {
  const { groupMap, groups } = second.sender.rig.conventions;
  const image = first.group === undefined ? undefined : imageOf(first.group, groupMap);
  const promises = onOnePath(first, second) ? [] : heldTo(second);
  if (image !== undefined && proposals.claim(image, second, promises)) return image;
  return onOnePath(first, second) && groups.length > 0 ? undefined : proposals.groupFor(second);
}
