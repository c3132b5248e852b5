import { byLabel, clause, commonPractice, defineRule, inRig, mapAll, mark, noted } from '../../../src/doors/rule.js';
import {
  commonQueriers,
  elementLabel,
  elementMarks,
  elementSubject,
  elementTouch,
  namedElement,
} from '../../../src/doors/redundancy.js';
import { words, type Facts, type Note } from './words.js';

export default defineRule<Facts, Note>({
  id: 'redundancy/common-querier',
  summary: 'Both networks of redundant streams have their only querier in one box',
  severity: 'warning',
  people: 'which switch is to query in which network',
  sources: [
    clause('RFC 3376', '8.4'),
    clause('RFC 4541', '2.1.1'),
    commonPractice('each network of a redundant pair queries for itself'),
  ],
  needs: ['pairs', 'switchPorts', 'queriers'],
  brief: 'one box queries both networks',
  harm: 'exposes',
  *check({ plan, model }) {
    if (model.keptApart) return;
    const found = commonQueriers(plan, model.network, model.failures);
    for (const one of byLabel(found, ({ element }) => elementSubject(element))) {
      const { element, senders, withinS, then } = one;
      const planned = byLabel(one.planned, ({ vlan }) => `${vlan.name}${inRig(vlan.rig)}`);
      const [at, ...others] = mapAll(planned, ({ vlan, igmp }) =>
        noted(mark(igmp, `VLAN ${vlan.name}`, 'querier'), 'querier'),
      );
      yield {
        subject: elementSubject(element),
        parties: [elementLabel(element), ...planned.map(({ vlan }) => vlan.name)],
        // Switches that do not say are taken to forget who joined what.
        confidence: then === undefined ? 'assumed' : 'certain',
        facts: {
          element: namedElement(element),
          vlans: mapAll(planned, ({ vlan }) => vlan),
          streams: byLabel([...new Set(senders.map(({ label }) => label))], (name) => name),
          withinS,
          floods: then === 'flood',
        },
        at,
        others: [...others, ...elementMarks(plan, element)],
        touch: elementTouch(plan, element),
      };
    }
  },
  words,
});
