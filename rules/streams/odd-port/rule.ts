import { createEditList, likely, setLegNumber } from '../../../src/doors/cures.js';
import { byLabel, clause, defineRule, legLabel, mapAll, mark, noted } from '../../../src/doors/rule.js';
import { ascending, causeLegLabel, isSentByRtp, touchOfCause, writtenOnce } from '../../../src/doors/streams.js';
import { words, type Facts } from './words.js';

export default defineRule<Facts, number>({
  id: 'streams/odd-port',
  summary: 'A stream is sent to an odd UDP port',
  severity: 'warning',
  sources: [clause('RFC 3550', '11')],
  needs: ['streamPorts'],
  brief: 'odd UDP port',
  *check({ model }) {
    const odd = model.unusualNumbers.oddPort.filter((leg) => isSentByRtp(leg) !== false);
    for (const cause of writtenOnce(odd, 'port')) {
      const legs = byLabel(cause.legs, legLabel);
      const senders = byLabel(cause.senders, ({ label }) => label);
      const assumed = !legs.some(isSentByRtp);
      const [at, ...others] = mapAll(legs, (leg) => noted(mark(leg, causeLegLabel(cause, leg), 'port'), leg.port ?? 0));
      yield {
        subject: cause.subject,
        parties: senders.map(({ label }) => label),
        cure: () => {
          const edits = createEditList();
          for (const leg of legs) if (leg.port !== undefined) setLegNumber(model, edits, [leg], 'port', leg.port - 1);
          return likely(edits);
        },
        confidence: assumed ? 'assumed' : 'certain',
        facts: { senders, assumed, ports: [...new Set(legs.flatMap(({ port }) => port ?? []))].sort(ascending) },
        at,
        others,
        touch: touchOfCause(cause.kind, senders[0]),
      };
    }
  },
  words,
});
