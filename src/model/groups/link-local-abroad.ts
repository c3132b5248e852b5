import { append } from '../../collections/group-by.js';
import type { Leg, Plan, ReceiverLeg } from '../../plan/types.js';
import { isMulticast } from '../../values/address.js';
import type { Domains } from '../vlans/index.js';
import { multicastScope6 } from './multicast-space/index.js';

/** Legs with a link-local IPv6 group (RFC 7346 §2) that receivers behind a router take, with those receivers. */
export function linkLocalAbroad({ receiverLegs }: Plan, domains: Domains): ReadonlyMap<Leg, readonly ReceiverLeg[]> {
  const found = new Map<Leg, ReceiverLeg[]>();
  for (const receiver of receiverLegs) {
    const leg = receiver.takes;
    if (typeof leg?.group !== 'bigint' || receiver.group !== leg.group || !isMulticast(leg.group)) continue;
    if (multicastScope6(leg.group).edge !== 'link') continue;
    if (domains.switched(receiver) !== domains.switched(leg) && domains.reach(receiver) === domains.reach(leg))
      append(found, leg, receiver);
  }
  return found;
}
