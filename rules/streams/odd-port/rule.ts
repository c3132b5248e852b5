import { createEditList, likely, setLegNumber } from '../../../src/doors/cures.js';
import {
  byLabel,
  clause,
  defineRule,
  isSentByRtp,
  legLabel,
  mapAll,
  mark,
  noted,
  type Leg,
} from '../../../src/doors/rule.js';
import { ascending, causeLegLabel, touchOfCause, writtenOnce } from '../../../src/doors/streams.js';
import { words, type Facts } from './words.js';

export default defineRule<Facts, number>({
  id: 'streams/odd-port',
  summary: 'A stream is sent to an odd UDP port',
  severity: 'warning',
  sources: [clause('RFC 3550', '11')],
  needs: ['streamPorts'],
  brief: 'odd UDP port',
  *check({ model }) {
    const odd = model.unusualLegs.oddPort.filter((leg) => isSentByRtp(leg) !== false);
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
          for (const leg of legs)
            if (leg.port !== undefined) setLegNumber(model, edits, [leg], 'port', mappedPort(leg) ?? leg.port - 1);
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

/** What the conventions derive from the other leg, where that is even. */
function mappedPort({ sender, index }: Leg): number | undefined {
  const offset = sender.rig.conventions.portOffset;
  const other = sender.legs[1 - index]?.port;
  if (offset === undefined || other === undefined) return undefined;
  const port = index === 1 ? other + offset : other - offset;
  return port % 2 === 0 && port > 0 ? port : undefined;
}
