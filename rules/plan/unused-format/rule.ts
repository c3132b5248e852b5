import { commonPractice, defineRule, likelyMeant, mark, usedFormats } from '../../../src/lint/rule.js';

export default defineRule({
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
        what: `no sender or receiver has format ${name}`,
        at: mark(format, `format ${name}`, 'name'),
        onAir:
          'nothing by itself; where a stream should have this format and does not say so, its bandwidth is not counted',
        fix: 'write `format` in the streams that have it, or take the format out',
        touch: { kind: 'plan', name: format.origin.document.name },
      };
    }
  },
});
