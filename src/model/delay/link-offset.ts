/** Link offsets that are over before sound arrives, or that hold too few of its packets (AES67-2018 §7.5). */
import { groupBy } from '../../collections/group-by.js';
import { mapAll, type NonEmpty } from '../../collections/non-empty.js';
import { byLabel } from '../../collections/order.js';
import type { MediaTiming, Receiver, Sender } from '../../plan/types.js';
import { restsOnUsual, type Budget } from './budget.js';
import type { Delays } from './delays.js';
import { LEAST_BUFFER_PACKETS } from './limits.js';
import { packetTimeNs } from './packing.js';

/** The inputs of one rig for which its link offset is too short in one way. */
export interface ShortLinkOffset {
  readonly timing: MediaTiming;
  readonly offsetNs: number;
  /** The packet time of one of them is not stated, only usual. */
  readonly usual: boolean;
  /** Packets are later than the offset, not only bunched too close. */
  readonly late: boolean;
  /** By label. */
  readonly receivers: NonEmpty<Receiver>;
  /** By label. */
  readonly senders: NonEmpty<Sender>;
  /** The one that needs the longest offset. */
  readonly worst: { readonly sender: Sender; readonly needNs: number; readonly packetNs: number };
  /** An offset that does for all, up to the next tenth of a millisecond, in which devices are set. */
  readonly enoughNs: number;
}

export function shortLinkOffsets({ budgets, linkOffsetOf }: Delays): readonly ShortLinkOffset[] {
  const short = budgets.flatMap((budget): readonly Short[] => {
    const { receiver, sender } = budget;
    // An input with a buffer of its own is not set to the link offset.
    if (sender.essence !== 'audio' || receiver.bufferNs !== undefined) return [];
    const timing = linkOffsetOf(receiver.rig);
    return timing?.linkOffsetNs === undefined ? [] : judge(budget, timing, timing.linkOffsetNs);
  });
  return [...groupBy(short, ({ timing }) => timing).values()].flatMap((ofRig) =>
    [...groupBy(ofRig, ({ late }) => late).values()].map(together),
  );
}

interface Short extends Pick<Budget, 'receiver' | 'sender'> {
  readonly timing: MediaTiming;
  readonly offsetNs: number;
  readonly usual: boolean;
  readonly late: boolean;
  readonly needNs: number;
  readonly packetNs: number;
}

function judge({ receiver, sender, items }: Budget, timing: MediaTiming, offsetNs: number): readonly Short[] {
  let needNs = 0;
  for (const { part, ns } of items) if (part === 'packets' || part === 'way') needNs += ns;
  const packetNs = packetTimeNs(sender) ?? 0;
  const own = { receiver, sender, timing, offsetNs, packetNs, usual: restsOnUsual({ items }) };
  if (needNs > offsetNs) return [{ ...own, late: true, needNs }];
  const leastNs = LEAST_BUFFER_PACKETS * packetNs;
  return leastNs > offsetNs ? [{ ...own, late: false, needNs: leastNs }] : [];
}

function together(all: NonEmpty<Short>): ShortLinkOffset {
  const inputs = byLabel(all, ({ receiver }) => receiver.label);
  const [{ timing, offsetNs, late, sender: first }] = inputs;
  const [, ...others] = new Set(inputs.map(({ sender }) => sender));
  return {
    timing,
    offsetNs,
    usual: inputs.some((one) => one.usual),
    late,
    receivers: mapAll(inputs, ({ receiver }) => receiver),
    senders: byLabel<Sender>([first, ...others], ({ label }) => label),
    worst: inputs.reduce((a, b) => (b.needNs > a.needNs ? b : a)),
    enoughNs: Math.ceil(Math.max(...inputs.map(enoughNs)) / 1e5) * 1e5,
  };
}

/** The way, and as many packets as are to be held. */
function enoughNs({ needNs, packetNs, late }: Short): number {
  return late ? needNs + (LEAST_BUFFER_PACKETS - 1) * packetNs : needNs;
}
