import { createEditList, likely, removeEntry } from '../../../src/doors/cures.js';
import { commonPractice, defineRule, mark } from '../../../src/doors/rule.js';
import { unusedVlans } from '../../../src/doors/plan.js';
import { words, type Facts } from './words.js';

export default defineRule<Facts>({
  id: 'plan/unused-vlan',
  summary: 'A VLAN that nothing refers to',
  severity: 'note',
  sources: [commonPractice('a plan holds what is built')],
  needs: ['vlanMembers'],
  brief: 'unused',
  harm: 'paper',
  *check({ plan }) {
    for (const vlan of unusedVlans(plan)) {
      yield {
        subject: `VLAN ${vlan.name}${plan.rigs.length > 1 ? ` of ${vlan.rig.name}` : ''}`,
        parties: [vlan.name],
        cure: () => {
          const edits = createEditList();
          removeEntry(edits, vlan, 'vlans');
          return likely(edits);
        },
        facts: { vlan: vlan.name },
        at: mark(vlan, `VLAN ${vlan.name}`, 'name'),
        touch: { kind: 'vlan', name: vlan.name },
      };
    }
  },
  words,
});
