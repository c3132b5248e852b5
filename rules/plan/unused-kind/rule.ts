import { commonPractice, defineRule, likelyMeant, mark } from '../../../src/lint/rule.js';

export default defineRule({
  id: 'plan/unused-kind',
  summary: 'A device kind without a device',
  severity: 'note',
  sources: [commonPractice('a plan holds what is built')],
  needs: ['kindMembers'],
  *check({ plan }) {
    const meant = likelyMeant(plan.unresolved, 'device kind');
    const names = new Set(plan.kinds.flatMap((kind) => (kind.used ? [kind.name] : [])));
    for (const kind of plan.kinds) {
      if (kind.used || meant.has(kind.name) || names.has(kind.name)) continue;
      yield {
        subject: `kind ${kind.name}${plan.rigs.length > 1 ? ` of ${kind.rig.name}` : ''}`,
        parties: [kind.name],
        what: `no device is of kind ${kind.name}`,
        at: mark(kind, `kind ${kind.name}`, 'name'),
        onAir:
          'nothing by itself; where a device should be of this kind and does not say so, its interfaces and streams are not in the plan',
        fix: 'write `kind` in the devices that are of it, or take the kind out',
        touch: { kind: 'plan', name: kind.origin.document.name },
      };
    }
  },
});
