/** Numbers a receiver states that are not those of the stream it hears. */
import type { Leg, Plan, ReceiverLeg, Sender } from '../plan/types.js';
import { groupBy } from './group-by.js';
import type { Reception } from './reception.js';

export interface ReceiverClash {
  /** The stream heard; the first in plan order where several send the group. */
  readonly sender: Sender;
  readonly stated: number;
  /** Every receiver leg that states it beside this stream, in plan order. */
  readonly legs: readonly ReceiverLeg[];
  /** The sender legs they hear, with their own numbers. */
  readonly heard: readonly Leg[];
}

/**
 * Receiver legs whose stated number none of the legs they hear has, joined by stream and number. Silent where a leg
 * heard does not state its number, and where a receiver joins another group than the leg it takes: that is the cause.
 */
export function receiverClashes(plan: Plan, reception: Reception, numberOf: (leg: Leg | ReceiverLeg) => number | undefined): readonly ReceiverClash[] {
  const clashing = plan.receiverLegs.filter((leg) => clashes(leg, reception, numberOf));
  const bySender = groupBy(clashing, (leg) => reception.heard(leg)[0]?.sender);
  return [...bySender].flatMap(([sender, ofSender]) =>
    [...groupBy(ofSender, numberOf)].map(([stated, legs]) => ({
      sender,
      stated,
      legs,
      heard: [...new Set(legs.flatMap((leg) => reception.heard(leg)))],
    })),
  );
}

function clashes(leg: ReceiverLeg, reception: Reception, numberOf: (leg: Leg | ReceiverLeg) => number | undefined): boolean {
  const stated = numberOf(leg);
  if (stated === undefined) return false;
  if (leg.groupStated && leg.takes !== undefined && leg.group !== (leg.takes.group ?? leg.takes.unicast)) return false;
  const heard = reception.heard(leg);
  return heard.length > 0 && heard.every((one) => {
    const sent = numberOf(one);
    return sent !== undefined && sent !== stated;
  });
}
