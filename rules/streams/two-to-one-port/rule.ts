import { createEditList, likely, peopleDecide, setLegNumber } from '../../../src/doors/cures.js';
import {
  byLabel,
  clause,
  defineRule,
  formatAddress,
  legLabel,
  mapAll,
  mark,
  noted,
  touchOf,
} from '../../../src/doors/rule.js';
import { sharedPorts } from '../../../src/doors/streams.js';
import { words, type Facts } from './words.js';

export default defineRule<Facts, string>({
  id: 'streams/two-to-one-port',
  summary: 'Two streams are sent to one address and UDP port',
  severity: 'error',
  sources: [clause('RFC 768', 'Fields'), clause('RFC 3550', '5.2')],
  needs: ['unicast', 'streamPorts'],
  brief: 'two streams on one UDP port',
  explains: ['two senders'],
  *check({ plan, model }) {
    for (const { address, port, legs: unordered } of sharedPorts(plan, model.network)) {
      const legs = byLabel(unordered, legLabel);
      const text = formatAddress(address);
      const there = plan.legs.flatMap((leg) => (leg.unicast === address ? (leg.port ?? []) : []));
      const [first, ...others] = mapAll(legs, (leg) => noted(mark(leg, legLabel(leg), 'port'), String(port)));
      yield {
        subject: `${text} port ${port}`,
        parties: legs.map(legLabel),
        cure: () => {
          const edits = createEditList();
          const taken = new Set(there);
          for (const leg of legs.slice(1)) {
            const own = freePort(port, taken);
            if (own === undefined) return peopleDecide('no port is free');
            taken.add(own);
            setLegNumber(model, edits, [leg], 'port', own);
          }
          return likely(edits);
        },
        facts: { legs, address: text, port, free: freePort(port, new Set(there)) },
        at: first,
        others,
        touch: touchOf(legs[0].sender),
      };
    }
  },
  words,
});

/** The next even port nothing is sent to there, from which RTCP may use the odd one above (RFC 3550 §11). */
function freePort(port: number, taken: ReadonlySet<number>): number | undefined {
  for (let one = port + 2 - (port % 2); one <= LAST_PORT - 1; one += 2)
    if (!taken.has(one) && !taken.has(one + 1)) return one;
  return undefined;
}

const LAST_PORT = 65535;
