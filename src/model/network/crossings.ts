/** Streams that a multicast router has to carry from the VLAN they are sent in to one where a receiver takes them. */
import type { Leg, Plan, ReceiverLeg, Vlan } from '../../plan/types.js';
import type { Domain, Domains } from '../vlans/index.js';
import type { Reception } from '../streams/index.js';

export interface Crossing {
  readonly leg: Leg;
  readonly by: ReceiverLeg;
  readonly from: Vlan;
  readonly to: Vlan;
  readonly fromDomain: Domain;
  readonly toDomain: Domain;
}

/** Every reception whose two ends are in different VLANs that routing joins, in plan order. */
export function crossingsOf(plan: Plan, domains: Domains, reception: Reception): readonly Crossing[] {
  if (!plan.vlans.some(({ routing }) => routing !== undefined && routing.mode !== 'none')) return [];
  const found: Crossing[] = [];
  for (const by of plan.receiverLegs) {
    const { vlan: to } = by;
    if (to === undefined || by.group === undefined) continue;
    for (const leg of reception.heard(by)) {
      const { vlan: from } = leg;
      if (from === undefined || from === to || leg.group !== by.group) continue;
      const fromDomain = domains.switched(leg);
      const toDomain = domains.switched(by);
      if (fromDomain !== toDomain && domains.reach(leg) === domains.reach(by))
        found.push({ leg, by, from, to, fromDomain, toDomain });
    }
  }
  return found;
}
