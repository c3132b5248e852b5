import { createEditList, likely } from '../../../src/doors/cures.js';
import {
  byLabel,
  clauseFromMemory,
  commonPractice,
  defineRule,
  mark,
  noted,
  withRig,
  type Mark,
  type Vlan,
} from '../../../src/doors/rule.js';
import { splitVlans } from '../../../src/doors/vlans.js';
import { words, type Facts, type Note } from './words.js';

export default defineRule<Facts, Note>({
  id: 'vlans/joined-ids-differ',
  summary: 'VLANs that become one have different ids',
  severity: 'error',
  sources: [clauseFromMemory('IEEE 802.1Q-2022', '9.6'), commonPractice('one id means one VLAN in the whole network')],
  needs: ['rigJoins', 'vlanIds'],
  brief: 'joined VLANs have different ids',
  *check({ plan, model }) {
    for (const { id, until, ...split } of splitVlans(plan, model.proposals.vlanId)) {
      const vlans = byLabel(split.vlans, withRig);
      const changed = vlans.filter((vlan) => vlan.id !== undefined && vlan.id !== id);
      const [first] = changed;
      if (first === undefined) continue;
      yield {
        subject: vlans.map(withRig).join(', '),
        parties: vlans.map(withRig),
        cure: () => {
          const edits = createEditList();
          if (until.length === 0 && id !== undefined) for (const vlan of changed) edits.set(vlan, 'id', id);
          return likely(edits, 'which VLAN gives its id up first');
        },
        facts: {
          entries: vlans.map((vlan) => ({ vlan, id: vlan.id })),
          id,
          isFree: vlans.every((vlan) => vlan.id !== id),
          changed,
          until: byLabel(until, withRig),
        },
        at: idMark(first, id),
        others: [
          ...vlans.filter((vlan) => vlan !== first).map((vlan) => idMark(vlan, id)),
          ...(first.joinedAs === undefined ? [] : [noted(mark(first.joinedAs, 'a join', 'vlans'), 'join')]),
        ],
        touch: { kind: 'vlan', name: first.name },
      };
    }
  },
  words,
});

function idMark(vlan: Vlan, id: number | undefined): Mark<Note> {
  const at = mark(vlan, `VLAN ${withRig(vlan)}`, 'id');
  return vlan.id === undefined || id === undefined || vlan.id === id ? at : noted(at, { id, insteadOf: vlan.id });
}
