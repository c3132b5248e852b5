import { byLabel, clause, defineRule, mark } from '../../../src/lint/rule.js';

/** IEEE 802.1Q-2022 table 9-2: 0 means no VLAN, 4095 is reserved; the field has 12 bits. */
const FIRST = 1;
const LAST = 4094;

export default defineRule({
  id: 'vlans/id-out-of-range',
  summary: 'A VLAN id that no switch accepts',
  severity: 'error',
  sources: [clause('IEEE 802.1Q-2022', '9.6'), clause('ieee802-dot1q-types.yang', 'typedef vlanid')],
  needs: ['vlanIds'],
  *check({ plan }) {
    const taken = new Set(plan.vlans.map((vlan) => vlan.id));
    const wrong = plan.vlans.filter(
      ({ id }) => id !== undefined && !(Number.isInteger(id) && id >= FIRST && id <= LAST),
    );
    for (const vlan of byLabel(wrong, ({ name, rig }) => `${name} ${rig.name}`)) {
      const { id = 0 } = vlan;
      yield {
        subject: `VLAN ${vlan.name}${plan.rigs.length > 1 ? ` of ${vlan.rig.name}` : ''}`,
        parties: [vlan.name],
        what: `VLAN ${vlan.name} has the id ${id}, which ${meaning(id)}`,
        at: mark(vlan, `VLAN ${vlan.name}`, 'id'),
        onAir: 'switches refuse the id, or cut it down to another VLAN: nothing in this VLAN passes a trunk',
        fix: `give the VLAN an id from ${FIRST} to ${LAST}${suggestion(id, taken)}`,
        touch: { kind: 'vlan', name: vlan.name },
      };
    }
  },
});

function meaning(id: number): string {
  if (id === 0) return 'marks a frame with a priority and no VLAN';
  return id === LAST + 1 ? 'the standard reserves' : 'does not fit the 12 bits of a tag';
}

/** The nearest free id; 1 is left out, for it is the VLAN every port starts in. */
function suggestion(id: number, taken: Set<number | undefined>): string {
  const step = id < FIRST ? 1 : -1;
  for (let free = id < FIRST ? FIRST + 1 : LAST; free > FIRST && free <= LAST; free += step) {
    if (taken.has(free)) continue;
    taken.add(free);
    return `, ${free} for one`;
  }
  return '';
}
