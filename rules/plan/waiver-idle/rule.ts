import { byLabel, commonPractice, defineRule, groupBy, mapAll, mark } from '../../../src/lint/rule.js';
import { words, type Facts } from './words.js';

export default defineRule<Facts>({
  id: 'plan/waiver-idle',
  summary: 'A waiver that accepts nothing',
  severity: 'note',
  sources: [commonPractice('an exception ends with its reason')],
  needs: [],
  stage: 'waivers',
  *check({ waivers }) {
    const idle = waivers.flatMap(({ waiver, state }) => (state === 'idle' ? [waiver] : []));
    for (const [subject, list] of groupBy(idle, ({ rule, about }) => `${rule}: ${about}`)) {
      const sorted = byLabel(list, ({ reason }) => reason);
      const [{ rule, about, origin }] = sorted;
      const [at, ...others] = mapAll(sorted, (waiver) => mark(waiver, `waiver of ${waiver.rule}`, 'about'));
      yield {
        subject,
        parties: [],
        facts: { rule, about, narrow: sorted.every(({ parties }) => parties !== undefined) },
        at,
        others,
        touch: { kind: 'plan', name: origin.document.name },
      };
    }
  },
  words,
});
