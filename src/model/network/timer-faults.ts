/** Timers of a VLAN that lose members or cannot be sent. All in seconds. */
import type { GroupManagement } from '../../plan/types.js';
import type { Protocol } from './group-segments.js';
import { LONGEST_QUERY_INTERVAL_S, LONGEST_RESPONSE_S, timersOf } from './timers.js';

export type TimerFault =
  /** Too long for the messages of the version. */
  | 'responseTooLong'
  /** RFC 3376 §8.3: it must be less than the query interval; §8.14.2 says not greater. */
  | 'responseAsLong'
  | 'responseLonger'
  /** RFC 3376 §8.1: it should not be 1. */
  | 'robustnessOne'
  | 'intervalTooLong';

/** The version whose messages say less than the newer one's. */
export const OLD_VERSION = { igmp: 2, mld: 1 } as const;

export function timerFaults(management: GroupManagement, protocol: Protocol): readonly TimerFault[] {
  return [
    ...responseFault(management, protocol),
    ...(management.robustness === 1 ? (['robustnessOne'] as const) : []),
    ...((management.queryIntervalS ?? 0) > LONGEST_QUERY_INTERVAL_S ? (['intervalTooLong'] as const) : []),
  ];
}

function responseFault(management: GroupManagement, protocol: Protocol): readonly TimerFault[] {
  const { queryIntervalS, queryResponseIntervalS } = timersOf(management);
  if (management.version === OLD_VERSION[protocol] && queryResponseIntervalS > LONGEST_RESPONSE_S[protocol])
    return ['responseTooLong'];
  if (queryResponseIntervalS < queryIntervalS) return [];
  return [queryResponseIntervalS === queryIntervalS ? 'responseAsLong' : 'responseLonger'];
}
