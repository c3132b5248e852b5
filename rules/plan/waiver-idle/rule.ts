import { createEditList, likely, removeEntry } from '../../../src/doors/cures.js';
import { byLabel, commonPractice, defineRule, groupBy, mark, type Waiver } from '../../../src/doors/rule.js';
import { words, type Facts } from './words.js';

export default defineRule<Facts>({
  id: 'plan/waiver-idle',
  summary: 'A waiver that accepts nothing',
  severity: 'note',
  sources: [commonPractice('an exception ends with its reason')],
  needs: [],
  brief: 'accepts nothing',
  harm: 'paper',
  stage: 'waivers',
  *check({ waivers }) {
    const idle = waivers.flatMap(({ waiver, state }) => (state === 'idle' ? [waiver] : []));
    for (const [key, same] of groupBy(idle, ({ rule, subject }) => `${rule}: ${subject}`)) {
      const [first, ...rest] = byLabel(same, ({ reason }) => reason);
      const { rule, subject } = first;
      yield {
        subject: key,
        parties: [],
        cure: () => {
          const edits = createEditList();
          for (const waiver of same) removeEntry(edits, waiver, 'waivers');
          return likely(edits);
        },
        facts: { rule, subject, namesParties: same.every(({ parties }) => parties !== undefined) },
        at: markOf(first),
        others: rest.map(markOf),
        touch: { kind: 'plan', name: first.origin.document.name },
      };
    }
  },
  words,
});

function markOf(waiver: Waiver) {
  return mark(waiver, `waiver of ${waiver.rule}`, 'subject');
}
