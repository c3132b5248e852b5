/** Where groups that are not a stream's to use belong instead, and to which free groups each leg can move. */
import { isNonEmpty, type NonEmpty } from '../../collections/non-empty.js';
import type { ConventionGroups, Leg } from '../../plan/types.js';
import {
  formatAddress,
  formatPrefix,
  formatRange,
  inPrefix,
  isIPv4,
  rangeOf,
  type Address,
  type AddressRange,
} from '../../values/address.js';
import { constantAddress4, constantAddress6, constantPrefix } from '../../values/address-table.js';
import { commonRanges, groupFitness, isSourceSpecific } from '../groups/index.js';
import type { Proposals } from './proposals.js';

/** Ranges the conventions promise, those its practice allows, or a block of the standards. */
export type DestinationKind = 'conventions' | 'practice' | 'organization-4' | 'organization-6' | 'ssm-4' | 'ssm-6';

export interface Destination {
  readonly kind: DestinationKind;
  /** Ranges or blocks; empty where the kind names one block. */
  readonly ranges: readonly string[];
  readonly legs: NonEmpty<Leg>;
}

/** What the advice asks. */
export interface Advisor {
  readonly heldTo: (leg: Leg) => readonly ConventionGroups[];
  readonly proposals: Proposals;
}

/** Where the groups of legs belong: the conventions' ranges for each, else those its practice allows, else a block. */
export function destinationsOf(advisor: Advisor, legs: readonly Leg[]): readonly Destination[] {
  const found = new Map<string, { readonly place: Place; readonly legs: [Leg, ...Leg[]] }>();
  for (const leg of legs) {
    const place = placeFor(advisor, leg);
    const key = `${place.kind} ${place.texts.join(' ')}`;
    const known = found.get(key);
    if (known === undefined) found.set(key, { place, legs: [leg] });
    else known.legs.push(leg);
  }
  return [...found.values()].map(({ place: { kind, texts }, legs: own }) => ({ kind, ranges: texts, legs: own }));
}

/** How to move legs off groups that are not theirs. */
export interface Moves {
  /** Legs that move to the group the conventions' map asks for beside a sound other leg, where that is free. */
  readonly mapped: readonly { readonly leg: Leg; readonly group: string }[];
  /** Where the others belong. */
  readonly to: readonly Destination[];
  /** Several groups are concerned. */
  readonly several: boolean;
}

/** Ask in an order that does not depend on the plan's: mapped groups are offered once. */
export function movesOf(advisor: Advisor, legs: readonly Leg[]): Moves {
  const mapped: { readonly leg: Leg; readonly group: string }[] = [];
  const left: Leg[] = [];
  for (const leg of legs) {
    const group = advisor.proposals.mappedGroup(leg);
    if (group === undefined) left.push(leg);
    else mapped.push({ leg, group: formatAddress(group) });
  }
  return {
    mapped,
    to: destinationsOf(advisor, left),
    several: new Set(legs.map(({ group }) => group)).size > 1,
  };
}

/** A free group for each leg; where there is none for every one, or the list would be long, how to move them. */
export type FreeMoves =
  | { readonly form: 'free'; readonly moves: readonly { readonly leg: Leg; readonly group: string }[] }
  | { readonly form: 'to'; readonly several: boolean; readonly to: readonly Destination[] }
  | { readonly form: 'many'; readonly moves: Moves };

export function freeMovesOf(advisor: Advisor, legs: readonly Leg[]): FreeMoves {
  if (legs.length > MOST_MOVES) return { form: 'many', moves: movesOf(advisor, legs) };
  const { proposals } = advisor;
  const moves = legs.flatMap((leg) => {
    const to = proposals.mappedGroup(leg) ?? proposals.group(leg.sender.rig, placeFor(advisor, leg).ranges);
    return to === undefined ? [] : [{ leg, group: formatAddress(to) }];
  });
  return moves.length < legs.length
    ? { form: 'to', several: legs.length > 1, to: destinationsOf(advisor, legs) }
    : { form: 'free', moves };
}

const MOST_MOVES = 6;

/** Ranges in which a leg's group belongs. */
export function groupRangesOf(advisor: Advisor, leg: Leg): readonly AddressRange[] {
  return placeFor(advisor, leg).ranges;
}

interface Place {
  readonly kind: DestinationKind;
  readonly texts: readonly string[];
  readonly ranges: readonly AddressRange[];
}

function placeFor(advisor: Advisor, leg: Leg): Place {
  const like = leg.group ?? 0;
  const ranges = conventionRanges(advisor, leg, like);
  if (isNonEmpty(ranges)) return { kind: 'conventions', texts: ranges.map(rangeText), ranges };
  const { groupRanges, sourceSpecific } = leg.sender.rig.practice;
  const family = groupRanges.filter(({ network }) => typeof network === typeof like);
  const own = isSourceSpecific(like, sourceSpecific) && isSourceSpecific(like);
  const kind = isIPv4(like) ? (own ? 'ssm-4' : 'organization-4') : own ? 'ssm-6' : 'organization-6';
  const block = BLOCKS[kind];
  if (family.length === 0 || family.some((prefix) => inPrefix(block.first, prefix)))
    return { kind, texts: [], ranges: [block] };
  return { kind: 'practice', texts: family.map(formatPrefix), ranges: family.map(rangeOf) };
}

function rangeText(range: AddressRange): string {
  return range.first === range.last ? formatAddress(range.first) : formatRange(range);
}

/** Ranges all promises agree on, but for those where the conventions themselves have put their groups out of bounds. */
function conventionRanges(advisor: Advisor, leg: Leg, like: Address): readonly AddressRange[] {
  const { conventions, practice } = leg.sender.rig;
  return commonRanges(advisor.heldTo(leg), like).filter(({ first, last }) =>
    [first, last].every((end) => groupFitness(end, conventions, practice) === 'usable'),
  );
}

/**
 * RFC 2365 §6.2; for IPv6 the organization-local scope of RFC 7346 §2 with flag T set, dynamic ids of RFC 3307 §4.3. Free
 * source-specific groups of RFC 4607 §4.3, those of IPv4 without the ones whose multicast MAC is flooded or a clock's.
 */
const BLOCKS = {
  'organization-4': rangeOf(constantPrefix('239.192.0.0/14')),
  'organization-6': { first: constantAddress6('ff18::8000:0'), last: constantAddress6('ff18::ffff:ffff') },
  'ssm-4': { first: constantAddress4('232.1.0.0'), last: constantAddress4('232.127.255.255') },
  'ssm-6': { first: constantAddress6('ff38::8000:0'), last: constantAddress6('ff38::ffff:ffff') },
} as const;
