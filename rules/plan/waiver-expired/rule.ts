import {
  byLabel,
  commonPractice,
  defineRule,
  groupBy,
  lastOf,
  mark,
  noted,
  type Waiver,
} from '../../../src/doors/rule.js';
import { words, type Facts, type Note } from './words.js';

export default defineRule<Facts, Note>({
  id: 'plan/waiver-expired',
  summary: 'A waiver is past its last day',
  severity: 'warning',
  people: 'whether the fault may stand a while longer',
  sources: [commonPractice('an exception ends on the day it says')],
  needs: [],
  brief: 'past its last day',
  stage: 'waivers',
  harm: 'paper',
  *check({ waivers }) {
    const expired = waivers.flatMap(({ waiver, state }) => (state === 'expired' ? [waiver] : []));
    for (const [key, same] of groupBy(expired, ({ rule, subject }) => `${rule}: ${subject}`)) {
      const sorted = byLabel(same, ({ until = '', reason }) => `${until} ${reason}`);
      const latest = lastOf(sorted);
      const { rule, subject, until = '', reason } = latest;
      yield {
        subject: key,
        parties: [],
        facts: { rule, subject, until, reason },
        at: markOf(latest),
        others: sorted.slice(0, -1).toReversed().map(markOf),
        touch: { kind: 'plan', name: latest.origin.document.name },
      };
    }
  },
  words,
});

function markOf(waiver: Waiver) {
  return noted(mark(waiver, `waiver of ${waiver.rule}`, 'until'), { until: waiver.until ?? '' });
}
