import { byLabel, clause, clauseFromMemory, defineRule, mark } from '../../../src/doors/rule.js';
import { createEditList, certainly } from '../../../src/doors/cures.js';
import { createNearestVlanIds, isVlanId } from '../../../src/doors/vlans.js';
import { words, type Facts } from './words.js';

export default defineRule<Facts>({
  id: 'vlans/id-out-of-range',
  summary: 'A VLAN id that no switch accepts',
  severity: 'error',
  sources: [clauseFromMemory('IEEE 802.1Q-2022', '9.6'), clause('ieee802-dot1q-types.yang', 'typedef vlanid')],
  needs: ['vlanIds'],
  brief: 'id no switch accepts',
  explains: ['VLAN id'],
  harm: 'others',
  *check({ plan }) {
    const nearest = createNearestVlanIds(plan);
    const wrong = plan.vlans.flatMap((vlan) =>
      vlan.id === undefined || isVlanId(vlan.id) ? [] : [{ vlan, id: vlan.id }],
    );
    for (const { vlan, id } of byLabel(wrong, (one) => `${one.vlan.name} ${one.vlan.rig.name}`)) {
      yield {
        subject: `VLAN ${vlan.name}${plan.rigs.length > 1 ? ` of ${vlan.rig.name}` : ''}`,
        parties: [vlan.name],
        cure: () => {
          const edits = createEditList();
          const free = nearest(id);
          if (free !== undefined) edits.set(vlan, 'id', free);
          return certainly(edits, 'no id is free');
        },
        facts: { vlan, id, free: nearest(id) },
        at: mark(vlan, `VLAN ${vlan.name}`, 'id'),
        touch: { kind: 'vlan', name: vlan.name },
      };
    }
  },
  words,
});
