import { formatPrefix, inPrefix, isIPv4, type Address, type AddressRange } from '../values/address.js';
import { groupBy } from '../model/group-by.js';
import { groupStanding } from '../model/group-standing.js';
import { commonRanges } from '../model/house-groups.js';
import { isSourceSpecific } from '../model/multicast-space/source-specific.js';
import type { Model } from '../model/model.js';
import { constantAddress4, constantAddress6 } from '../model/address-table.js';
import type { Leg } from '../plan/types.js';
import { legLabel } from './labels.js';
import { rangeWords } from './leg-sets.js';
import { listNames } from './words.js';

/**
 * Where the groups of legs belong, in words that follow "a free group in": the house's range for each, else one its
 * practice allows.
 */
export function whereTo(model: Model, legs: readonly Leg[]): string {
  const byPlace = groupBy(legs, (leg) => placeFor(model, leg));
  if (byPlace.size === 1) return [...byPlace.keys()].join('');
  return listNames([...byPlace].map(([place, own]) => `${place} for ${listNames(own.map(legLabel), 2)}`), 3);
}

function placeFor(model: Model, leg: Leg): string {
  const like = leg.group ?? 0;
  const ranges = houseRanges(model, leg, like);
  if (ranges.length > 0) return `the house's ${rangeWords(ranges)}`;
  const { groupRanges, sourceSpecific } = leg.sender.rig.practice;
  const family = groupRanges.filter(({ network }) => typeof network === typeof like);
  const own = isSourceSpecific(like, sourceSpecific) && isSourceSpecific(like);
  const [first, words] = isIPv4(like) ? (own ? SOURCE_SPECIFIC_4 : ORGANIZATION_LOCAL_4) : own ? SOURCE_SPECIFIC_6 : ORGANIZATION_LOCAL_6;
  if (family.length === 0 || family.some((prefix) => inPrefix(first, prefix))) return words;
  return listNames(family.map(formatPrefix), 3);
}

/** Ranges all promises agree on, but for those where the house itself has put its groups out of bounds. */
function houseRanges(model: Model, leg: Leg, like: Address): readonly AddressRange[] {
  const { house, practice } = leg.sender.rig;
  return commonRanges(model.heldTo(leg), like).filter(({ first, last }) => [first, last].every((end) => groupStanding(end, house, practice) === 'usable'));
}

/** RFC 2365 §6.2; for IPv6 the organization-local scope of RFC 7346 §2 with flag T set. */
const ORGANIZATION_LOCAL_4 = [constantAddress4('239.192.0.0'), '239.192.0.0/14 (the Organization Local Scope)'] as const;
const ORGANIZATION_LOCAL_6 = [constantAddress6('ff18::'), 'ff18::/16 (organization-local scope)'] as const;
/** Free groups of RFC 4607 §4.3, those of IPv4 without the ones whose Ethernet address is flooded or a clock's. */
const SOURCE_SPECIFIC_4 = [constantAddress4('232.1.0.0'), '232.1.0.0-232.127.255.255 (source-specific)'] as const;
const SOURCE_SPECIFIC_6 = [constantAddress6('ff38::8000:0'), 'ff38::8000:0-ff38::ffff:ffff (source-specific)'] as const;
