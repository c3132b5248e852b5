import { byLabel, commonPractice, defineRule, lastOf, mark, withRig } from '../../../src/doors/rule.js';
import { idleJoins, joinLabel, mergedVlans } from '../../../src/doors/plan.js';
import { words, type Facts } from './words.js';

export default defineRule<Facts>({
  id: 'plan/join-within-rig',
  summary: 'A join makes things of one rig one',
  severity: 'error',
  people: 'which of the VLANs are to meet',
  sources: [commonPractice('what a rig holds apart stays apart when it is joined')],
  needs: ['rigJoins'],
  brief: 'joins things of one rig',
  harm: 'later',
  *check({ plan }) {
    const merged = mergedVlans(plan);
    for (const found of merged) {
      const vlans = byLabel(found.merged, withRig);
      const through = byLabel(found.through, withRig);
      const joins = byLabel(found.joins, joinLabel);
      const last = lastOf(joins);
      yield {
        subject: `VLANs ${vlans.map(withRig).join(', ')}`,
        parties: [...vlans, ...through].map(withRig),
        facts: { form: 'merged', vlans, through, joins: joins.length },
        at: mark(last, joinLabel(last), 'vlans'),
        others: joins.slice(0, -1).map((join) => mark(join, joinLabel(join), 'vlans')),
        touch: { kind: 'plan', name: last.origin.document.name },
      };
    }
    for (const { join, key, named } of idleJoins(plan, merged)) {
      const sorted = byLabel(named, withRig);
      const names = sorted.map(withRig);
      yield {
        subject: `${key === 'vlans' ? 'VLANs' : 'networks'} ${names.join(', ')}`,
        parties: names,
        facts: { form: 'idle', key, named: sorted },
        at: mark(join, joinLabel(join), key),
        touch: { kind: 'plan', name: join.origin.document.name },
      };
    }
  },
  words,
});
