import {
  formatAddress,
  formatPrefix,
  inPrefix,
  isIPv4,
  rangeOf,
  type Address,
  type AddressRange,
} from '../values/address.js';
import { groupBy } from '../collections/group-by.js';
import { groupFitness } from '../model/groups/group-fitness.js';
import { commonRanges } from '../model/groups/house-groups.js';
import { isSourceSpecific } from '../model/groups/multicast-space/source-specific.js';
import type { Model } from '../model/model.js';
import { constantAddress4, constantAddress6, constantPrefix } from '../values/address-table.js';
import type { Leg } from '../plan/types.js';
import { legLabel } from '../words/labels.js';
import { groupsOf, rangeWords } from './leg-sets.js';
import { listNames } from '../words/lists.js';

/**
 * Where the groups of legs belong, in words that follow "a free group in": the house's range for each, else one its
 * practice allows.
 */
export function whereTo(model: Model, legs: readonly Leg[]): string {
  const byPlace = groupBy(legs, (leg) => placeFor(model, leg).words);
  if (byPlace.size === 1) return [...byPlace.keys()].join('');
  return listNames(
    [...byPlace].map(([place, own]) => `${place} for ${listNames(own.map(legLabel), 2)}`),
    3,
  );
}

/**
 * How to move legs off groups that are not theirs: to the group the house's map asks for beside a sound other leg, where
 * that is free, else to a free group where they belong. Ask in an order that does not depend on the plan's.
 */
export function moveWords(model: Model, legs: readonly Leg[], verb: 'move' | 'give' = 'move'): string {
  const to = verb === 'move' ? 'to ' : '';
  const mapped: string[] = [];
  const left: Leg[] = [];
  for (const leg of legs) {
    const group = model.proposals.mappedGroup(leg);
    if (group === undefined) left.push(leg);
    else mapped.push(`${legLabel(leg)} ${to}${formatAddress(group)}`);
  }
  const whole = left.length === 0 ? '' : whereTo(model, left);
  if (mapped.length === 0) return `${verb} ${groupsOf(legs).length > 1 ? 'each' : 'it'} ${to}a free group in ${whole}`;
  const follows = `as the house's map asks for beside ${mapped.length === 1 ? 'its other leg' : 'their other legs'}`;
  const others = left.length === 0 ? '' : `, and ${listNames(left.map(legLabel), 3)} ${to}a free group in ${whole}`;
  return `${verb} ${listNames(mapped)}, ${follows}${others}`;
}

/**
 * The same for groups of which any free one will do: each leg with a group of its own, as long as that is not a
 * long list; `but` are words on which groups of the ranges will not do.
 */
export function freeMoves(model: Model, legs: readonly Leg[], but: string): string {
  if (legs.length > MOST_MOVES) return `${moveWords(model, legs)}${but}`;
  const moves = legs.map((leg) => ({
    leg,
    to: model.proposals.mappedGroup(leg) ?? model.proposals.group(leg.sender.rig, placeFor(model, leg).ranges),
  }));
  const known = moves.flatMap(({ leg, to }) => (to === undefined ? [] : [`${legLabel(leg)} to ${formatAddress(to)}`]));
  return known.length < moves.length
    ? `move ${legs.length > 1 ? 'each' : 'it'} to a free group in ${whereTo(model, legs)}${but}`
    : `move ${listNames(known)}, free in this plan`;
}

const MOST_MOVES = 6;

interface PlaceFor {
  readonly words: string;
  readonly ranges: readonly AddressRange[];
}

function placeFor(model: Model, leg: Leg): PlaceFor {
  const like = leg.group ?? 0;
  const ranges = houseRanges(model, leg, like);
  if (ranges.length > 0) return { words: `the house's ${rangeWords(ranges)}`, ranges };
  const { groupRanges, sourceSpecific } = leg.sender.rig.practice;
  const family = groupRanges.filter(({ network }) => typeof network === typeof like);
  const own = isSourceSpecific(like, sourceSpecific) && isSourceSpecific(like);
  const [block, words] = isIPv4(like)
    ? own
      ? SOURCE_SPECIFIC_4
      : ORGANIZATION_LOCAL_4
    : own
      ? SOURCE_SPECIFIC_6
      : ORGANIZATION_LOCAL_6;
  if (family.length === 0 || family.some((prefix) => inPrefix(block.first, prefix))) return { words, ranges: [block] };
  return { words: listNames(family.map(formatPrefix), 3), ranges: family.map(rangeOf) };
}

/** Ranges all promises agree on, but for those where the house itself has put its groups out of bounds. */
function houseRanges(model: Model, leg: Leg, like: Address): readonly AddressRange[] {
  const { house, practice } = leg.sender.rig;
  return commonRanges(model.heldTo(leg), like).filter(({ first, last }) =>
    [first, last].every((end) => groupFitness(end, house, practice) === 'usable'),
  );
}

/** RFC 2365 §6.2; for IPv6 the organization-local scope of RFC 7346 §2 with flag T set, dynamic ids of RFC 3307 §4.3. */
const ORGANIZATION_LOCAL_4 = [
  rangeOf(constantPrefix('239.192.0.0/14')),
  '239.192.0.0/14 (the Organization Local Scope)',
] as const;
const ORGANIZATION_LOCAL_6 = [
  { first: constantAddress6('ff18::8000:0'), last: constantAddress6('ff18::ffff:ffff') },
  'ff18::/16 (organization-local scope)',
] as const;
/** Free groups of RFC 4607 §4.3, those of IPv4 without the ones whose Ethernet address is flooded or a clock's. */
const SOURCE_SPECIFIC_4 = [
  { first: constantAddress4('232.1.0.0'), last: constantAddress4('232.127.255.255') },
  '232.1.0.0-232.127.255.255 (source-specific)',
] as const;
const SOURCE_SPECIFIC_6 = [
  { first: constantAddress6('ff38::8000:0'), last: constantAddress6('ff38::ffff:ffff') },
  'ff38::8000:0-ff38::ffff:ffff (source-specific)',
] as const;
