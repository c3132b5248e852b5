import { byLabel, clause, clauseFromMemory, commonPractice, defineRule, mark, noted } from '../../../src/doors/rule.js';
import { sharedWays } from '../../../src/doors/redundancy.js';
import { words, type Facts, type Note } from './words.js';

export default defineRule<Facts, Note>({
  id: 'redundancy/legs-share-router',
  summary: 'Both legs of a stream go through one router, although another way is there',
  severity: 'warning',
  people: 'which routers each leg takes',
  sources: [
    clauseFromMemory('ST 2022-7', '6'),
    clause('RFC 7761', '4.1.5'),
    commonPractice('the two legs of a stream share nothing between the boxes at its ends'),
  ],
  needs: ['pairs', 'receivers', 'switchPorts', 'multicastRouting'],
  brief: 'both legs through one router',
  harm: 'exposes',
  *check({ model }) {
    const { routedReceptions } = model;
    if (routedReceptions.length === 0) return;
    for (const { router, senders, receivers, assumed } of byLabel(
      sharedWays(routedReceptions, () => model.failures),
      (one) => one.router.name,
    )) {
      const streams = byLabel(senders, ({ label }) => label);
      yield {
        subject: router.name,
        parties: [router.name, ...streams.map(({ label }) => label)],
        confidence: assumed ? 'assumed' : 'certain',
        facts: {
          router,
          streams,
          receivers: byLabel(
            receivers.map(({ label }) => label),
            (label) => label,
          ),
          assumed,
        },
        at: noted(mark(router, router.name, 'name'), 'shared'),
        others: streams.slice(0, MOST_MARKS).map((sender) => mark(sender, sender.label, 'name')),
        touch: { kind: 'ports' in router ? 'switch' : 'device', name: router.name },
      };
    }
  },
  words,
});

const MOST_MARKS = 10;
