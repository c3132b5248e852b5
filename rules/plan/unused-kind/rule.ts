import { commonPractice, defineRule, likelyMeant, mark } from '../../../src/lint/rule.js';
import { words, type Facts } from './words.js';

export default defineRule<Facts>({
  id: 'plan/unused-kind',
  summary: 'A device kind without a device',
  severity: 'note',
  sources: [commonPractice('a plan holds what is built')],
  needs: ['kindMembers'],
  *check({ plan }) {
    const meant = likelyMeant(plan.unresolved, 'kind');
    const names = new Set(plan.kinds.flatMap((kind) => (kind.used ? [kind.name] : [])));
    for (const kind of plan.kinds) {
      if (kind.used || meant.has(kind.name) || names.has(kind.name)) continue;
      yield {
        subject: `kind ${kind.name}${plan.rigs.length > 1 ? ` of ${kind.rig.name}` : ''}`,
        parties: [kind.name],
        facts: { kind },
        at: mark(kind, `kind ${kind.name}`, 'name'),
        touch: { kind: 'plan', name: kind.origin.document.name },
      };
    }
  },
  words,
});
