/** What receivers hear: which sender legs a receiver leg means, by the sender it takes or by the group it states. */
import type { Address } from '../plan/address.js';
import type { Leg, Plan, ReceiverLeg } from '../plan/types.js';
import type { Domain, Domains } from './domains.js';
import type { GroupUse } from './group-use.js';

export interface Reception {
  /** How the receiver leg's group is used where the receiver stands; undefined when nobody sends it there. */
  readonly useOf: (leg: ReceiverLeg) => GroupUse | undefined;
  /**
   * The leg it takes; else the legs that send the group it states where it stands, from the source it states. A leg
   * whose source the plan does not know may be the one.
   */
  readonly heard: (leg: ReceiverLeg) => readonly Leg[];
  /** Whether the plan has any sender of a group in the domain. */
  readonly anySentIn: (domain: Domain) => boolean;
  /** Receiver legs by the use of the group they join, where somebody sends it. */
  readonly joiners: (use: GroupUse) => readonly ReceiverLeg[];
}

export function buildReception(plan: Plan, domains: Domains, groupUse: readonly GroupUse[]): Reception {
  const byDomain = new Map<Domain, Map<Address, GroupUse>>();
  for (const use of groupUse) {
    const byGroup = byDomain.get(use.domain);
    if (byGroup === undefined) byDomain.set(use.domain, new Map([[use.group, use]]));
    else byGroup.set(use.group, use);
  }
  const useOf = (leg: ReceiverLeg): GroupUse | undefined =>
    leg.group === undefined ? undefined : byDomain.get(domains.reach(leg))?.get(leg.group);
  let joiners: ReadonlyMap<GroupUse, readonly ReceiverLeg[]> | undefined;
  return {
    useOf,
    heard: (leg) => {
      if (leg.takes !== undefined) return [leg.takes];
      const { source } = leg;
      const legs = useOf(leg)?.legs ?? [];
      return source === undefined ? legs : legs.filter((one) => one.source === undefined || one.source === source);
    },
    anySentIn: (domain) => byDomain.has(domain),
    joiners: (use) => (joiners ??= joinersOf(plan, useOf)).get(use) ?? [],
  };
}

function joinersOf(plan: Plan, useOf: (leg: ReceiverLeg) => GroupUse | undefined): ReadonlyMap<GroupUse, readonly ReceiverLeg[]> {
  const found = new Map<GroupUse, ReceiverLeg[]>();
  for (const leg of plan.receiverLegs) {
    const use = useOf(leg);
    if (use === undefined) continue;
    const list = found.get(use);
    if (list === undefined) found.set(use, [leg]);
    else list.push(leg);
  }
  return found;
}
