import { clause, defineRule, legLabel, mark, noted, touchOf } from '../../../src/doors/rule.js';
import { foreignDomains, splitReferenceClocks, type StatedClock } from '../../../src/doors/delay.js';
import { words, type Facts, type Note } from './words.js';

const LEGS = [clause('ST 2110-10', '8.2'), clause('RFC 7273', '4')];
const DOMAIN = [clause('RFC 7273', '4.8'), clause('ST 2110-10', '8.2')];

export default defineRule<Facts, Note>({
  id: 'delay/reference-clocks-differ',
  summary: 'Legs of one stream, or a stream and its receivers, go by different clocks',
  severity: 'error',
  people: 'which clock the sender follows',
  sources: [clause('ST 2110-10', '8.2'), clause('RFC 7273', '4'), clause('RFC 7273', '4.8')],
  needs: ['referenceClocks'],
  brief: 'goes by another clock',
  harm: 'spoils',
  *check({ plan }) {
    const split = splitReferenceClocks(plan);
    for (const { sender, stated, other } of split) {
      const markOf = ({ leg, clock }: StatedClock) => noted(mark(leg, legLabel(leg), 'referenceClock'), { clock });
      yield {
        subject: `legs of ${sender.label}`,
        parties: [sender.label],
        facts: { form: 'legs', sender, stated },
        at: markOf(other),
        others: stated.filter((one) => one !== other).map(markOf),
        sources: LEGS,
        touch: touchOf(sender),
      };
    }
    for (const { sender, leg, domain, receivers } of foreignDomains(plan, split)) {
      yield {
        subject: `domain ${domain} of ${sender.label}`,
        parties: [sender.label, ...receivers.map(({ receiver }) => receiver.label)],
        facts: {
          form: 'domain',
          sender,
          domain,
          receivers: receivers.map(({ receiver }) => receiver),
          followed: [...new Set(receivers.map((one) => one.domain))].sort((a, b) => a - b),
        },
        at: noted(mark(leg, sender.label, 'referenceClock'), { domain }),
        others: receivers.map(({ receiver, ptp, domain: own }) =>
          noted(mark(ptp, receiver.label, 'domain'), { domain: own }),
        ),
        sources: DOMAIN,
        touch: touchOf(sender),
      };
    }
  },
  words,
});
