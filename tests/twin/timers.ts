/** Timers of a VLAN as RFC 3376 §8 derives them, worked out here apart from the model. */
import type { GroupManagement } from '../../src/plan/types.js';

export type Timers = Pick<GroupManagement, 'robustness' | 'queryIntervalS' | 'queryResponseIntervalS'>;

/** Group membership interval, RFC 3376 §8.4. */
export function membershipS(igmp: Timers): number {
  return (igmp.robustness ?? 2) * (igmp.queryIntervalS ?? 125) + (igmp.queryResponseIntervalS ?? 10);
}

/** Other querier present interval, RFC 3376 §8.5. */
export function otherQuerierPresentS(igmp: Timers): number {
  return (igmp.robustness ?? 2) * (igmp.queryIntervalS ?? 125) + (igmp.queryResponseIntervalS ?? 10) / 2;
}
