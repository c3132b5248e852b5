/** Streams whose reference clocks do not go together (RFC 7273 §4, SMPTE ST 2110-10 §8.2). */
import { groupBy } from '../../collections/group-by.js';
import { isNonEmpty, mapAll, type NonEmpty } from '../../collections/non-empty.js';
import { byLabel } from '../../collections/order.js';
import type { Leg, Plan, PtpSettings, Receiver, Sender } from '../../plan/types.js';
import { parseReferenceClock } from './reference-clock.js';

/** A leg and the clock it states. */
export interface StatedClock {
  readonly leg: Leg;
  readonly clock: string;
}

/** A stream whose legs state different clocks. */
export interface SplitReferenceClock {
  readonly sender: Sender;
  /** The legs that state one, in the stream's order. */
  readonly stated: NonEmpty<StatedClock>;
  /** The first that is not the first one's. */
  readonly other: StatedClock;
}

/** By label of the stream. */
export function splitReferenceClocks({ senders }: Plan): readonly SplitReferenceClock[] {
  const split = senders.flatMap((sender): readonly SplitReferenceClock[] => {
    const stated = sender.legs.flatMap((leg) =>
      leg.referenceClock === undefined ? [] : [{ leg, clock: leg.referenceClock }],
    );
    if (!isNonEmpty(stated)) return [];
    const key = keyOf(stated[0]);
    const other = stated.find((one) => keyOf(one) !== key);
    return other === undefined ? [] : [{ sender, stated, other }];
  });
  return byLabel(split, ({ sender }) => sender.label);
}

function keyOf({ clock }: StatedClock): string {
  return parseReferenceClock(clock).key;
}

/** A stream that goes by one PTP domain, and receivers of it whose devices follow others. */
export interface ForeignDomain {
  readonly sender: Sender;
  /** The first leg that states a clock. */
  readonly leg: Leg;
  readonly domain: number;
  /** By label of the receiver. */
  readonly receivers: NonEmpty<ForeignReceiver>;
}

export interface ForeignReceiver {
  readonly receiver: Receiver;
  readonly ptp: PtpSettings;
  readonly domain: number;
}

/** Streams of `split` are a fault of their own. */
export function foreignDomains({ receivers }: Plan, split: readonly SplitReferenceClock[]): readonly ForeignDomain[] {
  const known = new Set(split.map(({ sender }) => sender));
  const foreign = receivers.flatMap((receiver) => {
    const { takes: sender, device } = receiver;
    if (sender === undefined || known.has(sender)) return [];
    const sent = domainOf(sender);
    const { ptp } = device;
    if (sent === undefined || ptp?.domain === undefined || ptp.mode === 'none' || sent.domain === ptp.domain) return [];
    return [{ sender, ...sent, of: { receiver, ptp, domain: ptp.domain } }];
  });
  return [...groupBy(foreign, ({ sender }) => sender).values()].map((own) => {
    const [{ sender, leg, domain }] = own;
    const wrong = byLabel(
      mapAll(own, ({ of }) => of),
      ({ receiver }) => receiver.label,
    );
    return { sender, leg, domain, receivers: wrong };
  });
}

/** Of a clock named by its grandmaster: traceable ones agree whatever their domain. */
function domainOf({ legs }: Sender): Pick<ForeignDomain, 'leg' | 'domain'> | undefined {
  const leg = legs.find(({ referenceClock }) => referenceClock !== undefined);
  const clock = leg?.referenceClock === undefined ? undefined : parseReferenceClock(leg.referenceClock);
  if (leg === undefined || clock?.kind !== 'ptp' || clock.domain === undefined) return undefined;
  return { leg, domain: clock.domain };
}
