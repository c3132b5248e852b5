/** Receivers that join another group or source than the stream they take is sent with. */
import type { ReceiverLeg, Sender } from '../../plan/types.js';

export function groupDiffers({ takes, group, groupStated }: ReceiverLeg): boolean {
  const destination = takes?.group ?? takes?.unicast;
  return groupStated && destination !== undefined && group !== destination;
}

export function sourceDiffers({ takes, source }: ReceiverLeg): boolean {
  return source !== undefined && takes?.source !== undefined && source !== takes.source;
}

/** Two legs of a receiver, each with the group of the other. */
export function legsSwapped(sender: Sender, legs: readonly ReceiverLeg[]): boolean {
  const [one, two] = legs;
  if (legs.length !== 2 || one === undefined || two === undefined || one.group === undefined) return false;
  return (
    sender.legs.length === 2 &&
    one.takes !== two.takes &&
    one.group === two.takes?.group &&
    two.group === one.takes?.group
  );
}
