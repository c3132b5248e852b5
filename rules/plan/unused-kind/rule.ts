import { createEditList, likely, removeEntry } from '../../../src/doors/cures.js';
import { commonPractice, defineRule, mark } from '../../../src/doors/rule.js';
import { unusedKinds } from '../../../src/doors/plan.js';
import { words, type Facts } from './words.js';

export default defineRule<Facts>({
  id: 'plan/unused-kind',
  summary: 'A device kind without a device',
  severity: 'note',
  sources: [commonPractice('a plan holds what is built')],
  needs: ['kindMembers'],
  brief: 'unused',
  harm: 'paper',
  *check({ plan }) {
    for (const kind of unusedKinds(plan)) {
      yield {
        subject: `kind ${kind.name}${plan.rigs.length > 1 ? ` of ${kind.rig.name}` : ''}`,
        parties: [kind.name],
        cure: () => {
          const edits = createEditList();
          removeEntry(edits, kind, 'kinds');
          return likely(edits);
        },
        facts: { kind: kind.name },
        at: mark(kind, `kind ${kind.name}`, 'name'),
        touch: { kind: 'plan', name: kind.origin.document.name },
      };
    }
  },
  words,
});
