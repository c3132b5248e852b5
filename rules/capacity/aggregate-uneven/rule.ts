import { byLabel, clauseFromMemory, commonPractice, defineRule, linkLabel } from '../../../src/doors/rule.js';
import { aggregateUses, type RateNote, useMarks, useSubject } from '../../../src/doors/capacity.js';
import { words, type Facts } from './words.js';

/** With so many streams a member they are taken to spread. */
const SPREADS = 4;

export default defineRule<Facts, RateNote>({
  id: 'capacity/aggregate-uneven',
  summary: 'The few streams of an aggregate do not fit if they fall on one member',
  severity: 'warning',
  people: 'which link holds all of it',
  sources: [
    clauseFromMemory('IEEE 802.1AX-2020', '6.2.7'),
    commonPractice('few streams do not spread evenly over an aggregate'),
  ],
  needs: ['formats', 'switchPorts', 'links', 'linkRates'],
  brief: 'streams may pile up on one member',
  harm: 'spoils',
  thresholds: {
    percent: {
      default: 50,
      what: 'share of an aggregate that few streams may fill before they are asked to spread, in percent',
    },
  },
  *check({ plan, model, threshold }) {
    const uneven = aggregateUses(plan, model).filter(
      ({ use: { loadBps, rateBps, links }, memberBps, streams }) =>
        streams.length > 1 &&
        streams.length <= SPREADS * links.length &&
        loadBps > memberBps &&
        // More than the others hold when one member is lost: capacity/link-overload-after-failure.
        loadBps <= rateBps - memberBps &&
        loadBps > (rateBps * threshold('percent', links[0].rig)) / 100 &&
        streams.every((one) => one.rateBps <= memberBps),
    );
    for (const { use, links, memberBps, streams } of byLabel(uneven, (one) => useSubject(one.use))) {
      const { at, others } = useMarks(use);
      yield {
        subject: useSubject(use),
        parties: links.map(linkLabel),
        confidence: 'likely',
        facts: {
          links,
          memberBps,
          loadBps: use.loadBps,
          atLeast: links.some(model.unrated.onLink),
          rateBps: use.rateBps,
          streams: streams.length,
        },
        at,
        others,
        touch: { kind: 'link', name: linkLabel(links[0]) },
      };
    }
  },
  words,
});
