/** Whether a clock waits long enough for the next Announce (IEEE 1588-2008 §9.2.6.11). */

export interface AnnounceSettings {
  readonly logAnnounceInterval: number;
  readonly announceReceiptTimeout: number;
}

/** `expires`: the follower gives up between two Announces of the leader. `no spare`: it can't miss a single one. */
export type AnnounceTolerance = 'expires' | 'no spare' | 'fine';

export function announceTolerance(leaderLogAnnounceInterval: number, follower: AnnounceSettings): AnnounceTolerance {
  const patience = follower.announceReceiptTimeout * 2 ** follower.logAnnounceInterval;
  const interval = 2 ** leaderLogAnnounceInterval;
  if (patience <= interval) return 'expires';
  return patience < 2 * interval ? 'no spare' : 'fine';
}
