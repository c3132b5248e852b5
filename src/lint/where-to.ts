import { formatPrefix, inPrefix, isIPv4, type Address, type AddressRange } from '../plan/address.js';
import { groupStanding } from '../model/group-standing.js';
import { commonRanges } from '../model/house-groups.js';
import type { Model } from '../model/model.js';
import { constantAddress4, constantAddress6 } from '../model/address-table.js';
import type { Leg } from '../plan/types.js';
import { rangeWords } from './leg-sets.js';
import { listNames } from './words.js';

/** Where the groups of a leg belong, in words that follow "move it to": the house's range, else one its practice allows. */
export function whereTo(model: Model, leg: Leg): string {
  const like = leg.group ?? 0;
  const ranges = houseRanges(model, leg, like);
  if (ranges.length > 0) return `the house's ${rangeWords(ranges)}`;
  const { groupRanges } = leg.sender.rig.practice;
  const [first, words] = isIPv4(like) ? ORGANIZATION_LOCAL_4 : ORGANIZATION_LOCAL_6;
  const family = groupRanges.filter(({ network }) => typeof network === typeof like);
  if (family.length === 0 || family.some((prefix) => inPrefix(first, prefix))) return words;
  return listNames(family.map(formatPrefix), 3);
}

/** Ranges all promises agree on, but for those where the house itself has put its groups out of bounds. */
function houseRanges(model: Model, leg: Leg, like: Address): readonly AddressRange[] {
  const { house, practice } = leg.sender.rig;
  return commonRanges(model.heldTo(leg), like).filter(({ first, last }) => [first, last].every((end) => groupStanding(end, house, practice) === 'usable'));
}

/** RFC 2365 §6.2; for IPv6 the organization-local scope of RFC 7346 §2 with flag T set. */
const ORGANIZATION_LOCAL_4 = [constantAddress4('239.192.0.0'), '239.192.0.0/14, the Organization Local Scope'] as const;
const ORGANIZATION_LOCAL_6 = [constantAddress6('ff18::'), 'ff18::/16, transient groups of organization-local scope'] as const;
