import { commonPractice, defineRule, likelyMeant, mark, usedVlans } from '../../../src/lint/rule.js';

export default defineRule({
  id: 'plan/unused-vlan',
  summary: 'A VLAN that nothing refers to',
  severity: 'note',
  sources: [commonPractice('a plan holds what is built')],
  needs: ['vlanMembers'],
  *check({ plan }) {
    const used = usedVlans(plan);
    const meant = likelyMeant(plan.unresolved, 'VLAN');
    const names = new Set([...used].map((vlan) => vlan.name));
    for (const vlan of plan.vlans) {
      // A name that leads nowhere may have meant it; of two entries of one name the other one is used.
      if (used.has(vlan) || meant.has(vlan.name) || names.has(vlan.name)) continue;
      yield {
        subject: `VLAN ${vlan.name}${plan.rigs.length > 1 ? ` of ${vlan.rig.name}` : ''}`,
        parties: [vlan.name],
        what: `nothing in the plan is in VLAN ${vlan.name}: no host, stream, port, link or switch address`,
        at: mark(vlan, `VLAN ${vlan.name}`, 'name'),
        onAir: 'nothing; but its id and subnet look taken, and somebody may build on a VLAN that no trunk carries',
        fix: 'take it out, or name it where it is used',
        touch: { kind: 'vlan', name: vlan.name },
      };
    }
  },
});
