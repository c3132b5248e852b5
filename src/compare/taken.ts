/** The stream each leg of a receiver takes: as its entry says, or by the group it joins. */
import type { Leg, Network, Plan, ReceiverLeg } from '../plan/types.js';
import type { Address } from '../values/address.js';
import type { Context } from './context.js';

export interface TakenLegs {
  readonly before: Leg | undefined;
  readonly after: Leg | undefined;
  /** True where the stream went to another group and the receiver, which says the group only, is left behind. */
  readonly left: boolean;
}

/** Looks up what a leg took in the old plan and takes in the new one. */
export type Taken = (before: ReceiverLeg, after: ReceiverLeg) => TakenLegs;

export function createTaken({ before, after, pairing }: Context): Taken {
  const oldByGroup = sentTo(before);
  const nowByGroup = sentTo(after);
  const later = new Map(pairing.senders.both);
  return (old, now) => {
    if (old.takes !== undefined || now.takes !== undefined) return { before: old.takes, after: now.takes, left: false };
    const took = by(old, oldByGroup);
    const takes = by(now, nowByGroup);
    const follows = took === undefined ? undefined : later.get(took.sender)?.legs[took.index];
    const stays = old.group === now.group && takes === undefined && follows?.group !== undefined;
    return stays ? { before: took, after: follows, left: true } : { before: took, after: takes, left: false };
  };
}

/** A group's only stream; of a group several streams use, the only one of each network. */
type Sent = Leg | Map<Network | undefined, Leg | undefined>;

function sentTo({ legs }: Plan): ReadonlyMap<Address, Sent> {
  const byGroup = new Map<Address, Sent>();
  for (const leg of legs) {
    if (leg.group === undefined) continue;
    const known = byGroup.get(leg.group);
    if (known === undefined) byGroup.set(leg.group, leg);
    else if (known instanceof Map) known.set(leg.network, known.has(leg.network) ? undefined : leg);
    else
      byGroup.set(
        leg.group,
        known.network === leg.network
          ? new Map([[leg.network, undefined]])
          : new Map([
              [known.network, known],
              [leg.network, leg],
            ]),
      );
  }
  return byGroup;
}

/** The only stream of a group, on the receiver's network where several networks use the group. */
function by({ group, network }: ReceiverLeg, sent: ReadonlyMap<Address, Sent>): Leg | undefined {
  const all = group === undefined ? undefined : sent.get(group);
  return all instanceof Map ? all.get(network) : all;
}
