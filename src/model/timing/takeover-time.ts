/** How long a clock waits before it takes the lead, and whether it waits long enough (IEEE 1588-2008 §9.2.6.11). */

/** Seconds, from the least to the most. */
export interface Span {
  readonly fromS: number;
  readonly toS: number;
}

export interface AnnounceSettings {
  readonly logAnnounceInterval: number;
  readonly announceReceiptTimeout: number;
}

/** After a loss, counted from the last Announce: the standby leads, then its followers have qualified it. */
export interface TakeoverTimes {
  readonly standby: Span;
  readonly followers: Span;
}

/**
 * N to N + 1 announce intervals, N being announceReceiptTimeout: clocks draw a random part of the last one, so that
 * they do not all speak at once (linuxptp `port_set_announce_tmo`). A follower believes a new leader at its second Announce.
 */
export function takeoverTimes({ logAnnounceInterval, announceReceiptTimeout }: AnnounceSettings): TakeoverTimes {
  const interval = 2 ** logAnnounceInterval;
  const standby = { fromS: announceReceiptTimeout * interval, toS: (announceReceiptTimeout + 1) * interval };
  return { standby, followers: { fromS: standby.fromS + interval, toS: standby.toS + interval } };
}

/** A leader that says itself it got worse is overtaken at its next Announce, without any timeout. */
export function overtakeTimes({ logAnnounceInterval }: Pick<AnnounceSettings, 'logAnnounceInterval'>): TakeoverTimes {
  const interval = 2 ** logAnnounceInterval;
  return { standby: { fromS: 0, toS: interval }, followers: { fromS: interval, toS: 2 * interval } };
}

/** `expires`: the follower gives up between two Announces of the leader. `no spare`: it can't miss a single one. */
export type AnnounceTolerance = 'expires' | 'no spare' | 'fine';

export function announceTolerance(leaderLogAnnounceInterval: number, follower: AnnounceSettings): AnnounceTolerance {
  const patience = follower.announceReceiptTimeout * 2 ** follower.logAnnounceInterval;
  const interval = 2 ** leaderLogAnnounceInterval;
  if (patience <= interval) return 'expires';
  return patience < 2 * interval ? 'no spare' : 'fine';
}
