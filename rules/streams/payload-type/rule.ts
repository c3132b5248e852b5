import { certainly, createEditList, setLegNumber } from '../../../src/doors/cures.js';
import {
  byLabel,
  clause,
  defineRule,
  groupBy,
  legLabel,
  mapAll,
  mark,
  noted,
  type Leg,
  type Plan,
  type Sender,
} from '../../../src/doors/rule.js';
import {
  causeLegLabel,
  isControlType,
  misusesPayloadType,
  touchOfCause,
  writtenOnce,
} from '../../../src/doors/streams.js';
import { words, type Facts } from './words.js';

export default defineRule<Facts, number>({
  id: 'streams/payload-type',
  summary: 'The RTP payload type of a stream means something else',
  severity: 'warning',
  sources: [clause('RFC 3551', '3'), clause('RFC 3551', '6'), clause('RFC 5761', '4'), clause('ST 2110-10', '6.2')],
  needs: ['payloadTypes'],
  brief: 'payload type means something else',
  *check({ plan, model }) {
    const wrong = model.unusualLegs.lowPayloadType.filter((leg) => misusesPayloadType(leg) && !isOddOneOut(leg));
    for (const [payloadType, ofType] of groupBy(wrong, (leg) => leg.payloadType)) {
      for (const cause of writtenOnce(ofType, 'payloadType')) {
        const senders = byLabel(cause.senders, ({ label }) => label);
        const [at, ...others] = mapAll(byLabel(cause.legs, legLabel), (leg) =>
          noted(mark(leg, causeLegLabel(cause, leg), 'payloadType'), payloadType),
        );
        yield {
          subject: `${cause.subject} payload type ${payloadType}`,
          parties: senders.map(({ label }) => label),
          cure: () => {
            const edits = createEditList();
            setLegNumber(model, edits, cause.legs, 'payloadType', usualType(plan, senders[0]));
            return certainly(edits);
          },
          facts: {
            senders,
            payloadType,
            control: isControlType(payloadType),
            coding: senders[0].format?.coding,
          },
          at,
          others,
          touch: touchOfCause(cause.kind, senders[0]),
        };
      }
    }
  },
  words,
});

/** Another leg has a type that is fine: `streams/legs-differ` says that, and which one to change. */
function isOddOneOut(leg: Leg): boolean {
  return leg.sender.legs.some(
    (other) => other.payloadType !== undefined && other.payloadType !== leg.payloadType && !misusesPayloadType(other),
  );
}

/** What most streams of the essence have of the dynamic types, else the first of them (RFC 3551 §6). */
function usualType({ legs }: Plan, { essence }: Sender): number {
  const counts = new Map<number, number>();
  for (const { payloadType, sender } of legs)
    if (payloadType !== undefined && payloadType >= 96 && sender.essence === essence)
      counts.set(payloadType, (counts.get(payloadType) ?? 0) + 1);
  const [best] = [...counts].sort(([a, x], [b, y]) => y - x || a - b);
  return best?.[0] ?? 96;
}
