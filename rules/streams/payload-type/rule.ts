import { byLabel, clause, defineRule, groupBy, legLabel, mapAll, mark, noted } from '../../../src/doors/rule.js';
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
  *check({ model }) {
    const wrong = model.unusualNumbers.lowPayloadType.filter(misusesPayloadType);
    for (const [payloadType, ofType] of groupBy(wrong, (leg) => leg.payloadType)) {
      for (const cause of writtenOnce(ofType, 'payloadType')) {
        const senders = byLabel(cause.senders, ({ label }) => label);
        const [at, ...others] = mapAll(byLabel(cause.legs, legLabel), (leg) =>
          noted(mark(leg, causeLegLabel(cause, leg), 'payloadType'), payloadType),
        );
        yield {
          subject: `${cause.subject} payload type ${payloadType}`,
          parties: senders.map(({ label }) => label),
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
