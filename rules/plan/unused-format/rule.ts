import { commonPractice, defineRule, likelyMeant, mark, usedFormats } from '../../../src/lint/rule.js';
import { words, type Facts } from './words.js';

export default defineRule<Facts>({
  id: 'plan/unused-format',
  summary: 'A format that no stream has',
  severity: 'note',
  sources: [commonPractice('a plan holds what is built')],
  needs: ['formatMembers'],
  *check({ plan }) {
    const used = usedFormats(plan);
    const meant = likelyMeant(plan.unresolved, 'format');
    const names = new Set([...used].map((format) => format.name));
    const told = new Set<string>();
    for (const format of plan.formats) {
      const { name } = format;
      if (name === undefined || used.has(format) || meant.has(name) || names.has(name) || told.has(name)) continue;
      told.add(name);
      yield {
        subject: `format ${name}`,
        parties: [name],
        facts: { format },
        at: mark(format, `format ${name}`, 'name'),
        touch: { kind: 'plan', name: format.origin.document.name },
      };
    }
  },
  words,
});
