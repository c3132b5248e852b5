/** Timers of a VLAN as RFC 3376 §8 derives them, worked out here apart from the model. */
import type { GroupManagement } from '../../src/plan/types.js';

/** Group membership interval, RFC 3376 §8.4. */
export function membershipS(igmp: GroupManagement): number {
  return (igmp.robustness ?? 2) * (igmp.queryIntervalS ?? 125) + (igmp.queryResponseIntervalS ?? 10);
}

/** Other querier present interval, RFC 3376 §8.5. */
export function otherQuerierPresentS(igmp: GroupManagement): number {
  return (igmp.robustness ?? 2) * (igmp.queryIntervalS ?? 125) + (igmp.queryResponseIntervalS ?? 10) / 2;
}
