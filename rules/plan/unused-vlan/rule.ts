import { commonPractice, defineRule, likelyMeant, mark, usedVlans } from '../../../src/lint/rule.js';
import { words, type Facts } from './words.js';

export default defineRule<Facts>({
  id: 'plan/unused-vlan',
  summary: 'A VLAN that nothing refers to',
  severity: 'note',
  sources: [commonPractice('a plan holds what is built')],
  needs: ['vlanMembers'],
  *check({ plan }) {
    const used = usedVlans(plan);
    const meant = likelyMeant(plan.unresolved, 'vlan');
    const names = new Set([...used].map((vlan) => vlan.name));
    for (const vlan of plan.vlans) {
      // A name that leads nowhere may have meant it; of two entries of one name the other one is used.
      if (used.has(vlan) || meant.has(vlan.name) || names.has(vlan.name)) continue;
      yield {
        subject: `VLAN ${vlan.name}${plan.rigs.length > 1 ? ` of ${vlan.rig.name}` : ''}`,
        parties: [vlan.name],
        facts: { vlan },
        at: mark(vlan, `VLAN ${vlan.name}`, 'name'),
        touch: { kind: 'vlan', name: vlan.name },
      };
    }
  },
  words,
});
