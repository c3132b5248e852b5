/** Who states a stream's numbers besides its sender, made once for all cures of a plan. */
import { append } from '../collections/group-by.js';
import type { Leg, ReceiverLeg, Sender } from '../plan/types.js';
import type { Model } from '../model/model.js';

export interface Followers {
  /** Receiver legs by the leg they take, or, where they name a group alone, the one leg of their rig they hear. */
  readonly receivers: ReadonlyMap<Leg, readonly ReceiverLeg[]>;
  /** Descriptions beside the plan, by the sender they are of. */
  readonly descriptions: ReadonlyMap<Sender, readonly Sender[]>;
}

const KNOWN = new WeakMap<Model, Followers>();

export function followersIn(model: Model): Followers {
  let known = KNOWN.get(model);
  if (known === undefined) KNOWN.set(model, (known = build(model)));
  return known;
}

function build(model: Model): Followers {
  const receivers = new Map<Leg, ReceiverLeg[]>();
  for (const leg of model.plan.receiverLegs) {
    const sent = leg.takes ?? (leg.groupStated && leg.group !== undefined ? onlyHeard(model, leg) : undefined);
    if (sent !== undefined) append(receivers, sent, leg);
  }
  const descriptions = new Map<Sender, Sender[]>();
  for (const { sender, of } of model.plan.descriptions) append(descriptions, of, sender);
  return { receivers, descriptions };
}

/** The leg of its own rig that a receiver hears by its group alone: before the rigs met there was no other. */
function onlyHeard({ reception }: Model, leg: ReceiverLeg): Leg | undefined {
  const own = reception.heard(leg).filter(({ sender }) => sender.rig === leg.receiver.rig);
  return own.length === 1 ? own[0] : undefined;
}
