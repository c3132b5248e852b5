import {
  byLabel,
  clauseFromMemory,
  commonPractice,
  defineRule,
  isNonEmpty,
  lastOf,
  mark,
  noted,
  type Vlan,
} from '../../../src/doors/rule.js';
import { idMeetings, leastWork, type IdMeeting } from '../../../src/doors/vlans.js';
import { namesIn, words, type Facts, type Note } from './words.js';

export default defineRule<Facts, Note>({
  id: 'vlans/id-twice',
  summary: 'One VLAN id with two meanings in one network',
  severity: 'error',
  sources: [clauseFromMemory('IEEE 802.1Q-2022', '9.6'), commonPractice('one id means one VLAN in the whole network')],
  needs: ['vlanIds'],
  brief: 'id with two meanings',
  *check({ plan, model }) {
    const found = [...idMeetings(plan, model.domains)];
    if (!isNonEmpty(found)) return;
    const toMove = leastWork(plan);
    // In an order of their own, for each gets another free id.
    for (const meeting of byLabel(found, orderOf)) {
      const { id, vlans: unsorted, ...form } = meeting;
      const nameOf = (vlan: Vlan): string => namesIn([vlan], unsorted).join('');
      const vlans = byLabel(unsorted, nameOf);
      const moves = toMove(vlans, form.form === 'site');
      const move = lastOf(moves);
      yield {
        subject: `id ${id}: ${vlans.map(nameOf).join(', ')}`,
        parties: vlans.map(nameOf),
        severity: form.form === 'links' || form.form === 'network' ? 'error' : 'warning',
        confidence: form.form === 'notStated' ? 'assumed' : 'certain',
        facts: { id, vlans, move, moveToo: moves.slice(0, -1), free: model.proposals.vlanId(), ...form },
        at: noted(mark(move, `VLAN ${nameOf(move)}`, 'id'), 'move'),
        others: vlans.filter((vlan) => vlan !== move).map((vlan) => mark(vlan, `VLAN ${nameOf(vlan)}`, 'id')),
        touch: { kind: 'vlan', name: move.name },
      };
    }
  },
  words,
});

function orderOf({ id, vlans }: IdMeeting): string {
  return `${id} ${vlans
    .map(({ name }) => name)
    .sort()
    .join(' ')}`;
}
