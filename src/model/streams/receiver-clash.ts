/** Numbers a receiver states that are not those of the stream it hears. */
import type { Leg, Plan, ReceiverLeg } from '../../plan/types.js';
import type { NonEmpty } from '../../collections/non-empty.js';
import { groupBy } from '../../collections/group-by.js';
import type { Reception } from './reception.js';
import { kindThatWrites } from '../written/index.js';

export interface ReceiverClash {
  /** `cam-1/video`, or `kind screen/in` where a kind states the number for every device. */
  readonly subject: string;
  readonly stated: number;
  /** Every receiver leg of this cause, in plan order. */
  readonly legs: NonEmpty<ReceiverLeg>;
  /** The sender legs they hear, with their own numbers. */
  readonly heard: readonly Leg[];
}

/**
 * Receiver legs whose stated number none of the legs they hear has, joined by number and by the stream, by the input where it
 * switches between streams, or by the kind that states it. Silent where a leg
 * heard does not state its number, and where a receiver joins another group than the leg it takes: that is the cause.
 */
export function receiverClashes(
  plan: Plan,
  reception: Reception,
  key: 'port' | 'payloadType',
): readonly ReceiverClash[] {
  const numberOf = (leg: Leg | ReceiverLeg): number | undefined => leg[key];
  const numbers = new Map<readonly Leg[], ReadonlySet<number | undefined>>();
  const numbersOf = (heard: readonly Leg[]): ReadonlySet<number | undefined> => {
    const known = numbers.get(heard) ?? new Set(heard.map(numberOf));
    numbers.set(heard, known);
    return known;
  };
  const clashing = plan.receiverLegs.filter((leg) => {
    const stated = numberOf(leg);
    if (stated === undefined || joinsElsewhere(leg)) return false;
    const sent = numbersOf(reception.heard(leg));
    return sent.size > 0 && !sent.has(stated) && !sent.has(undefined);
  });
  const bySubject = groupBy(clashing, (leg) => subjectOf(leg, key, reception));
  return [...bySubject].flatMap(([subject, ofSubject]) =>
    [...groupBy(ofSubject, numberOf)].map(([stated, legs]) => ({
      subject,
      stated,
      legs,
      heard: [...new Set([...new Set(legs.map((leg) => reception.heard(leg)))].flat())],
    })),
  );
}

function subjectOf(leg: ReceiverLeg, key: string, reception: Reception): string | undefined {
  const { receiver } = leg;
  const kind = kindThatWrites(leg, receiver.device, key);
  if (kind === undefined && receiver.selection !== undefined) return receiver.label;
  return kind === undefined ? reception.heard(leg)[0]?.sender.label : `kind ${kind.name}/${receiver.name}`;
}

function joinsElsewhere({ takes, group, groupStated }: ReceiverLeg): boolean {
  return groupStated && takes !== undefined && group !== (takes.group ?? takes.unicast);
}
