/** Receivers that only a router connects to the leg they hear. */
import { append } from '../../collections/group-by.js';
import type { Leg, Plan, ReceiverLeg } from '../../plan/types.js';
import type { Domains } from '../vlans/index.js';
import type { Reception } from './reception.js';

/** Of these legs, those that receivers behind a router hear, with the receivers; only where nothing else is heard. */
export function behindRouters(
  plan: Plan,
  legs: ReadonlySet<Leg>,
  domains: Domains,
  reception: Reception,
): ReadonlyMap<Leg, readonly ReceiverLeg[]> {
  const found = new Map<Leg, ReceiverLeg[]>();
  if (legs.size === 0) return found;
  for (const receiver of plan.receiverLegs) {
    const [leg, another] = reception.heard(receiver);
    if (leg === undefined || another !== undefined || !legs.has(leg)) continue;
    if (leg.vlan === undefined || receiver.vlan === undefined || leg.vlan === receiver.vlan) continue;
    // VLANs that are not joined by routing at all are a matter of the VLANs.
    const routed =
      domains.reach(leg) === domains.reach(receiver) && domains.switched(leg) !== domains.switched(receiver);
    if (routed) append(found, leg, receiver);
  }
  return found;
}
