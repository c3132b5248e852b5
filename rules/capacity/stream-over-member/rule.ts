import { byLabel, clauseFromMemory, commonPractice, defineRule, linkLabel } from '../../../src/doors/rule.js';
import { aggregateUses, hangsOnAssumedTree, type RateNote, useMarks, useSubject } from '../../../src/doors/capacity.js';
import { words, type Facts } from './words.js';

export default defineRule<Facts, RateNote>({
  id: 'capacity/stream-over-member',
  summary: 'A stream is larger than any one member of the aggregate it crosses',
  severity: 'error',
  people: 'which members are swapped for faster ones',
  sources: [
    clauseFromMemory('IEEE 802.1AX-2020', '6.2.7'),
    commonPractice('a stream keeps to one member of an aggregate'),
  ],
  needs: ['formats', 'switchPorts', 'links', 'linkRates'],
  brief: 'stream larger than one member',
  harm: 'spoils',
  *check({ plan, model }) {
    const over = aggregateUses(plan, model).filter(
      ({ streams: [largest], memberBps }) => (largest?.rateBps ?? 0) > memberBps,
    );
    for (const { use, links, memberBps, streams } of byLabel(over, (one) => useSubject(one.use))) {
      const large = streams.filter(({ rateBps }) => rateBps > memberBps);
      const [first, ...rest] = large;
      if (first === undefined) continue;
      const { at, others } = useMarks(use);
      yield {
        subject: useSubject(use),
        parties: links.map(linkLabel),
        confidence: hangsOnAssumedTree(use) ? 'assumed' : 'certain',
        facts: { links, memberBps, streams: [first, ...rest] },
        at,
        others,
        touch: { kind: 'link', name: linkLabel(links[0]) },
      };
    }
  },
  words,
});
