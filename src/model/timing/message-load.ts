/** How many PTP messages a leader and its followers exchange in a second, and what they take on the wire. */

export interface MessageRates {
  /** log2 of seconds, as the leader keeps them. */
  readonly logAnnounceInterval: number;
  readonly logSyncInterval: number;
  readonly logMinDelayReqInterval: number;
  /** Followers on the communication path. */
  readonly followers: number;
  readonly twoStep: boolean;
  readonly delayRequests: 'multicast' | 'unicast';
}

export interface MessageLoad {
  readonly receivedPerSecond: number;
  readonly sentPerSecond: number;
  readonly receivedBps: number;
  readonly sentBps: number;
}

/** PTP octets (IEEE 1588-2008 §13, Tables 26 to 30; announce, sync and delay messages measured). */
export const PTP_OCTETS = { sync: 44, followUp: 44, delayRequest: 44, delayResponse: 54, announce: 64 } as const;
/** Untagged UDP over IPv4 on the wire: preamble 8, Ethernet 14, IP 20, UDP 8, FCS 4, gap 12. */
export const WIRE_OVERHEAD_OCTETS = 66;

/** A leader or a boundary clock's port: Announce, Sync and Follow_Up to all, one Delay_Resp a request. */
export function leaderLoad(rates: MessageRates): MessageLoad {
  const requests = rates.followers * perSecond(rates.logMinDelayReqInterval);
  return load({ delayRequest: requests }, { ...broadcast(rates), delayResponse: requests });
}

/** A follower: with multicast requests it hears everyone else's too, and every answer (IEEE 1588-2008 §9.5.11). */
export function followerLoad(rates: MessageRates): MessageLoad {
  const own = perSecond(rates.logMinDelayReqInterval);
  const toAll = rates.delayRequests === 'multicast';
  const received = {
    ...broadcast(rates),
    delayResponse: toAll ? rates.followers * own : own,
    delayRequest: toAll ? Math.max(0, rates.followers - 1) * own : 0,
  };
  return load(received, { delayRequest: own });
}

/** Messages a second at an interval given as log2 of seconds. */
export function perSecond(logInterval: number): number {
  return 2 ** -logInterval;
}

type Counts = Readonly<Partial<Record<keyof typeof PTP_OCTETS, number>>>;

function broadcast({ logAnnounceInterval, logSyncInterval, twoStep }: MessageRates): Counts {
  const sync = perSecond(logSyncInterval);
  return { announce: perSecond(logAnnounceInterval), sync, followUp: twoStep ? sync : 0 };
}

function load(received: Counts, sent: Counts): MessageLoad {
  return {
    receivedPerSecond: messages(received),
    sentPerSecond: messages(sent),
    receivedBps: bits(received),
    sentBps: bits(sent),
  };
}

function messages(counts: Counts): number {
  return Object.values(counts).reduce((sum, count) => sum + count, 0);
}

function bits(counts: Counts): number {
  const kinds = Object.keys(PTP_OCTETS) as readonly (keyof typeof PTP_OCTETS)[];
  return kinds.reduce((sum, kind) => sum + (counts[kind] ?? 0) * (PTP_OCTETS[kind] + WIRE_OVERHEAD_OCTETS) * 8, 0);
}
