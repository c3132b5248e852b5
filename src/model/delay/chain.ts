/** The delay of several streams one after the other, each leaving the device that takes the one before. */
import { mapAll, type NonEmpty } from '../../collections/non-empty.js';
import type { Device, Receiver, Sender } from '../../plan/types.js';
import {
  devicePart,
  hopParts,
  joinParts,
  senderPart,
  type BudgetContext,
  type DelayGap,
  type DelayItem,
  type Part,
} from './budget.js';

export interface Hop {
  readonly sender: Sender;
  /** Input that takes it; undefined when the device meant has none that does. */
  readonly receiver: Receiver | undefined;
}

export interface Chain {
  readonly hops: NonEmpty<Hop>;
  readonly items: readonly DelayItem[];
  readonly gaps: readonly DelayGap[];
  /** Of what is known: at least this much where there are gaps. */
  readonly totalNs: number;
}

/** A device in between counts once: as what the stream that leaves it waits. */
export function chainOf(streams: NonEmpty<Sender>, end: Device | undefined, context: BudgetContext): Chain {
  const hops = mapAll(streams, (sender, index): Hop => {
    const next = index + 1 < streams.length ? streams[index + 1]?.device : end;
    return { sender, receiver: next?.receivers.find((one) => one.takes === sender) };
  });
  const parts = hops.flatMap(({ sender, receiver }, index): readonly Part[] => {
    if (receiver === undefined) return [senderPart(sender), { lacks: 'reception', names: [sender.label] }];
    const last = index + 1 === hops.length ? devicePart(receiver) : undefined;
    return [senderPart(sender), ...hopParts(receiver, sender, context), last];
  });
  return { hops, ...joinParts(parts) };
}
