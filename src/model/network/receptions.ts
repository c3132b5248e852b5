/** Which legs a receiver takes of which streams. */
import { groupBy } from '../../collections/group-by.js';
import type { Receiver, ReceiverLeg, Sender } from '../../plan/types.js';
import type { ReceptionLeg } from './way.js';

/** Pairs of a receiver's legs with the legs they take, by sender. */
export function receptionsOf(receiver: Receiver): Iterable<readonly [Sender, readonly ReceptionLeg[]]> {
  const [only] = receiver.legs;
  if (only !== undefined && receiver.legs.length === 1) {
    const pair = pairOf(only);
    return pair === undefined ? [] : [[pair.leg.sender, [pair]]];
  }
  return groupBy(
    receiver.legs.flatMap((receiverLeg) => pairOf(receiverLeg) ?? []),
    ({ leg }) => leg.sender,
  );
}

/** Undefined where it takes nothing. A leg that joins another group than the one it takes gets nothing. */
function pairOf(receiverLeg: ReceiverLeg): ReceptionLeg | undefined {
  const leg = receiverLeg.takes;
  return leg !== undefined && receiverLeg.group === leg.group ? { leg, receiverLeg } : undefined;
}
