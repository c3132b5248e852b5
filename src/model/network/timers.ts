/** Timers of IGMP (RFC 3376 §8) and MLD (RFC 3810 §9), which share formulas and defaults; all in seconds. */
import type { GroupManagement } from '../../plan/types.js';
import type { Span } from '../../values/span.js';

/** Settings with the defaults of RFC 3376 §8.1 to §8.3 and §8.8 for what is not stated. */
export interface Timers {
  readonly robustness: number;
  readonly queryIntervalS: number;
  readonly queryResponseIntervalS: number;
  readonly lastMemberQueryIntervalS: number;
}

export const DEFAULT_TIMERS: Timers = {
  robustness: 2,
  queryIntervalS: 125,
  queryResponseIntervalS: 10,
  lastMemberQueryIntervalS: 1,
};

/** The timers a VLAN runs with. */
export function timersOf(settings: GroupManagement | undefined): Timers {
  return {
    robustness: settings?.robustness ?? DEFAULT_TIMERS.robustness,
    queryIntervalS: settings?.queryIntervalS ?? DEFAULT_TIMERS.queryIntervalS,
    queryResponseIntervalS: settings?.queryResponseIntervalS ?? DEFAULT_TIMERS.queryResponseIntervalS,
    lastMemberQueryIntervalS: settings?.lastMemberQueryIntervalS ?? DEFAULT_TIMERS.lastMemberQueryIntervalS,
  };
}

/** Until a membership nobody renews is forgotten: RFC 3376 §8.4, RFC 3810 §9.4. 260 s with the defaults. */
export function membershipInterval(settings: GroupManagement | undefined): number {
  const { robustness, queryIntervalS, queryResponseIntervalS } = timersOf(settings);
  return robustness * queryIntervalS + queryResponseIntervalS;
}

/**
 * From the loss of the querier until memberships are forgotten (RFC 3376 §8.4, RFC 3810 §9.4): the interval counts from the
 * last report, which answered a query of up to a query interval before, or still answers one sent just before, up to a
 * response interval after. 135 to 270 s with the defaults.
 */
function ageingWithoutQuerier(settings: GroupManagement | undefined): Span {
  const { queryIntervalS, queryResponseIntervalS } = timersOf(settings);
  const lifeS = membershipInterval(settings);
  return { fromS: lifeS - queryIntervalS, toS: lifeS + queryResponseIntervalS };
}

/**
 * From the loss of the querier until the next one queries: the present interval (RFC 3376 §8.5, RFC 3810 §9.5) counts from
 * the last query, which came up to a query interval before. 130 to 255 s with the defaults.
 */
function untilNextQuerier(settings: GroupManagement | undefined): Span {
  const presentS = otherQuerierPresentInterval(settings);
  return { fromS: presentS - timersOf(settings).queryIntervalS, toS: presentS };
}

/** The next query of a querier that stands, and the report that answers it (RFC 3376 §8.2, §8.3). 0 to 135 s. */
function untilReported(settings: GroupManagement | undefined): Span {
  const { queryIntervalS, queryResponseIntervalS } = timersOf(settings);
  return { fromS: 0, toS: queryIntervalS + queryResponseIntervalS };
}

/** The widest of what VLANs of one segment state, all in seconds. */
export function ageingAmong(settings: readonly GroupManagement[]): Span {
  return widest(settings, ageingWithoutQuerier);
}

export function nextQuerierAmong(settings: readonly GroupManagement[]): Span {
  return widest(settings, untilNextQuerier);
}

export function reportedAmong(settings: readonly GroupManagement[]): Span {
  return widest(settings, untilReported);
}

/** Until a querier that stands sends its next query. */
export function queriedAmong(settings: readonly GroupManagement[]): Span {
  return widest(settings, (own) => ({ fromS: 0, toS: timersOf(own).queryIntervalS }));
}

/** Longest of the response intervals (RFC 3376 §8.3). */
export function responseAmong(settings: readonly GroupManagement[]): number {
  return widest(settings, (own) => ({ fromS: 0, toS: timersOf(own).queryResponseIntervalS })).toS;
}

function widest(settings: readonly GroupManagement[], spanOf: (settings: GroupManagement | undefined) => Span): Span {
  const [first, ...others] = settings.map(spanOf);
  return others.reduce(
    (found, { fromS, toS }) => ({ fromS: Math.min(found.fromS, fromS), toS: Math.max(found.toS, toS) }),
    first ?? spanOf(undefined),
  );
}

/** Until another querier takes over from one that fell silent: RFC 3376 §8.5, RFC 3810 §9.5. 255 s with the defaults. */
export function otherQuerierPresentInterval(settings: GroupManagement | undefined): number {
  const { robustness, queryIntervalS, queryResponseIntervalS } = timersOf(settings);
  return robustness * queryIntervalS + queryResponseIntervalS / 2;
}

/** Longest query response interval a message can carry: 8 bits of tenths in IGMPv2 (RFC 2236 §2.2), 16 bits of ms in MLDv1 (RFC 2710 §3.4). */
export const LONGEST_RESPONSE_S = { igmp: 25.5, mld: 65.535 } as const;

/** Longest query interval a message can carry, IGMPv3 and MLDv2 alike: (15 | 16) << (7 + 3) (RFC 3376 §4.1.7, RFC 3810 §5.1.9). */
export const LONGEST_QUERY_INTERVAL_S = 31744;
