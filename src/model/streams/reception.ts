/** What receivers hear: which sender legs a receiver leg means, by the sender it takes or by the group it states. */
import type { Address } from '../../values/address.js';
import type { Leg, Plan, ReceiverLeg } from '../../plan/types.js';
import type { Domain, Domains } from '../vlans/index.js';
import type { GroupIndex, GroupUse } from '../groups/index.js';
import { append } from '../../collections/group-by.js';

export interface Reception {
  /** How the receiver leg's group is used where the receiver stands; undefined when nobody sends it there. */
  readonly useOf: (leg: ReceiverLeg) => GroupUse | undefined;
  /**
   * The leg it takes; else the legs that send the group it states where it stands, from the source it states. A leg
   * whose source the plan does not know may be the one. Equal answers are one array.
   */
  readonly heard: (leg: ReceiverLeg) => readonly Leg[];
  /** Legs of a group's use by their source; under undefined those whose source is not known. */
  readonly legsBySource: (use: GroupUse) => ReadonlyMap<Address | undefined, readonly Leg[]>;
  /** Whether the plan has any sender of a group in the domain. */
  readonly anySentIn: (domain: Domain) => boolean;
  /** Receiver legs by the use of the group they join, where somebody sends it. */
  readonly joiners: (use: GroupUse) => readonly ReceiverLeg[];
}

export function buildReception(plan: Plan, domains: Domains, groups: GroupIndex): Reception {
  const useOf = (leg: ReceiverLeg): GroupUse | undefined =>
    leg.group === undefined ? undefined : groups.find(domains.reach(leg), leg.group);
  // Kept by use and source, so that many receivers of one group share one answer.
  const bySource = new Map<GroupUse, ReadonlyMap<Address | undefined, readonly Leg[]>>();
  const legsBySource = (use: GroupUse): ReadonlyMap<Address | undefined, readonly Leg[]> => {
    const known = bySource.get(use) ?? groupBySource(use);
    bySource.set(use, known);
    return known;
  };
  const answers = new Map<GroupUse, Map<Address, readonly Leg[]>>();
  const from = (use: GroupUse, source: Address): readonly Leg[] => {
    const byAddress = answers.get(use) ?? new Map<Address, readonly Leg[]>();
    answers.set(use, byAddress);
    const legs = byAddress.get(source) ?? [
      ...(legsBySource(use).get(source) ?? []),
      ...(legsBySource(use).get(undefined) ?? []),
    ];
    byAddress.set(source, legs);
    return legs;
  };
  const taken = new Map<Leg, readonly Leg[]>();
  let joiners: ReadonlyMap<GroupUse, readonly ReceiverLeg[]> | undefined;
  return {
    useOf,
    heard: (leg) => {
      if (leg.takes !== undefined) {
        const alone = taken.get(leg.takes) ?? [leg.takes];
        taken.set(leg.takes, alone);
        return alone;
      }
      const use = useOf(leg);
      if (use === undefined) return NONE;
      return leg.source === undefined ? use.legs : from(use, leg.source);
    },
    legsBySource,
    anySentIn: groups.anySentIn,
    joiners: (use) => (joiners ??= joinersOf(plan, useOf)).get(use) ?? [],
  };
}

const NONE: readonly Leg[] = [];

function groupBySource(use: GroupUse): ReadonlyMap<Address | undefined, readonly Leg[]> {
  const found = new Map<Address | undefined, Leg[]>();
  for (const leg of use.legs) {
    append(found, leg.source, leg);
  }
  return found;
}

function joinersOf(
  plan: Plan,
  useOf: (leg: ReceiverLeg) => GroupUse | undefined,
): ReadonlyMap<GroupUse, readonly ReceiverLeg[]> {
  const found = new Map<GroupUse, ReceiverLeg[]>();
  for (const leg of plan.receiverLegs) {
    const use = useOf(leg);
    if (use === undefined) continue;
    append(found, use, leg);
  }
  return found;
}
