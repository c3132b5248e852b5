import {
  commonPractice,
  defineRule,
  groupBy,
  mapAll,
  mark,
  noted,
  type NonEmpty,
  type Waiver,
} from '../../../src/lint/rule.js';
import { words, type Facts } from './words.js';

export default defineRule<Facts, 'held'>({
  id: 'plan/waiver-expired',
  summary: 'A waiver is past its last day',
  severity: 'warning',
  sources: [commonPractice('an exception ends on the day it says')],
  needs: [],
  stage: 'waivers',
  *check({ waivers }) {
    const expired = waivers.flatMap(({ waiver, state }) => (state === 'expired' ? [waiver] : []));
    for (const [subject, list] of groupBy(expired, ({ rule, about }) => `${rule}: ${about}`)) {
      const sorted = latestFirst(list);
      const [latest] = sorted;
      const [at, ...others] = mapAll(sorted, (waiver) => noted(mark(waiver, waiver.until ?? '', 'until'), 'held'));
      yield {
        subject,
        parties: [],
        facts: { rule: latest.rule, about: latest.about, until: latest.until ?? '', reason: latest.reason },
        at,
        others,
        touch: { kind: 'plan', name: latest.origin.document.name },
      };
    }
  },
  words,
});

function latestFirst(waivers: NonEmpty<Waiver>): NonEmpty<Waiver> {
  const [first, ...rest] = waivers;
  const sorted: [Waiver, ...Waiver[]] = [first, ...rest];
  sorted.sort((a, b) => ((a.until ?? '') < (b.until ?? '') ? 1 : -1));
  return sorted;
}
