/** Receivers that take one leg of a stream though they could take another. */
import type { Interface, Leg, Plan, Receiver, ReceiverLeg } from '../../plan/types.js';
import type { Domains } from '../vlans/index.js';

export interface HalfTaken {
  readonly receiver: Receiver;
  /** Its only leg. */
  readonly leg: ReceiverLeg;
  /** The leg of the sender that it leaves. */
  readonly other: Leg;
  /** Its interface that reaches the other leg. */
  readonly via: Interface;
}

/** In plan order. A receiver with a second leg that goes wrong is left to the rules on receivers and VLANs. */
export function halfTaken({ receivers }: Plan, domains: Domains): readonly HalfTaken[] {
  return receivers.flatMap((receiver): readonly HalfTaken[] => {
    const [leg, another] = receiver.legs;
    if (leg?.takes === undefined || another !== undefined || leg.takes.sender.legs.length < 2) return [];
    for (const other of leg.takes.sender.legs) {
      if (other === leg.takes || (other.vlan === undefined && other.network === undefined)) continue;
      const via = receiver.device.interfaces.find((one) => one !== leg.interface && reaches(one, other, domains));
      if (via !== undefined) return [{ receiver, leg, other, via }];
    }
    return [];
  });
}

function reaches(via: Interface, leg: Leg, domains: Domains): boolean {
  if (via.vlan === undefined && via.network === undefined) return false;
  return via.vlan === leg.vlan ? via.network === leg.network : domains.reach(via) === domains.reach(leg);
}
