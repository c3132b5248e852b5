import { createEditList, likely, peopleDecide } from '../../../src/doors/cures.js';
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
  type Plan,
  type Port,
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
      const free = model.proposals.vlanId();
      yield {
        subject: `id ${id}: ${vlans.map(nameOf).join(', ')}`,
        parties: vlans.map(nameOf),
        severity: form.form === 'links' || form.form === 'network' ? 'error' : 'warning',
        confidence: form.form === 'notStated' ? 'assumed' : 'certain',
        cure: () => {
          const edits = createEditList();
          if (areOneAcross(plan, vlans)) return peopleDecide('whether they are one VLAN under two names');
          if (free !== undefined) for (const vlan of moves) edits.set(vlan, 'id', free);
          return likely(edits, 'no id is free');
        },
        facts: { id, vlans, move, moveToo: moves.slice(0, -1), free, ...form },
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

/** Each end of a link knows one of them alone: their frames pass, so they may be one VLAN under two names. */
function areOneAcross({ links }: Plan, vlans: readonly Vlan[]): boolean {
  return links.some(({ ends: [{ port: a }, { port: b }] }) => {
    if (a === undefined || b === undefined) return false;
    const here = vlans.filter((vlan) => names(a, vlan));
    const there = vlans.filter((vlan) => names(b, vlan));
    return here.length > 0 && there.length > 0 && here.every((vlan) => !there.includes(vlan));
  });
}

function names({ access, native, trunk }: Port, vlan: Vlan): boolean {
  return access === vlan || native === vlan || (trunk !== undefined && trunk !== 'all' && trunk.includes(vlan));
}
