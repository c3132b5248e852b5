import { createEditList, likely, removeEntry } from '../../../src/doors/cures.js';
import { commonPractice, defineRule, mark } from '../../../src/doors/rule.js';
import { unusedFormats } from '../../../src/doors/plan.js';
import { words, type Facts } from './words.js';

export default defineRule<Facts>({
  id: 'plan/unused-format',
  summary: 'A format that no stream has',
  severity: 'note',
  sources: [commonPractice('a plan holds what is built')],
  needs: ['formatMembers'],
  brief: 'unused',
  harm: 'paper',
  *check({ plan, model }) {
    const unused = unusedFormats(plan);
    if (unused.length === 0) return;
    // A stream whose format is the slip most likely means it.
    const meant = new Set(model.strays.kinds.flatMap(({ facts }) => facts.flatMap((fact) => fact.meant ?? [])));
    for (const format of unused) {
      const { name } = format;
      if (meant.has(format)) continue;
      yield {
        subject: `format ${name}`,
        parties: [name],
        cure: () => {
          const edits = createEditList();
          removeEntry(edits, format, 'formats');
          return likely(edits);
        },
        facts: { format: name },
        at: mark(format, `format ${name}`, 'name'),
        touch: { kind: 'plan', name: format.origin.document.name },
      };
    }
  },
  words,
});
