import {
  byLabel,
  clause,
  commonPractice,
  defineRule,
  listNames,
  mark,
  splitVlans,
  withRig,
  type SplitVlan,
  type Vlan,
} from '../../../src/lint/rule.js';

export default defineRule({
  id: 'vlans/joined-ids-differ',
  summary: 'VLANs that become one have different ids',
  severity: 'error',
  sources: [clause('IEEE 802.1Q-2022', '9.6'), commonPractice('one id means one VLAN in the whole network')],
  needs: ['rigJoins', 'vlanIds'],
  *check({ plan, model }) {
    for (const split of splitVlans(plan, model.proposals.vlanId)) {
      const vlans = byLabel(split.vlans, withRig);
      const changed = vlans.filter(({ id }) => id !== undefined && id !== split.id);
      const [first] = changed;
      if (first === undefined) continue;
      const names = vlans.map(withRig);
      yield {
        subject: names.join(', '),
        parties: names,
        what: `${listNames(names)} become one VLAN, but have different ids: ${listNames(vlans.flatMap((vlan) => (vlan.id === undefined ? [] : [`${vlan.id} in ${vlan.rig.name}`])))}`,
        at: mark(first, note(first, split), 'id'),
        others: [
          ...vlans.filter((vlan) => vlan !== first).map((vlan) => mark(vlan, note(vlan, split), 'id')),
          ...(first.joinedAs === undefined ? [] : [mark(first.joinedAs, 'they become one here', 'vlans')]),
        ],
        onAir:
          'a switch tells VLANs by their ids: nothing of it passes the tie, and everything that one rig takes from the other is black or silent',
        fix: fixOf(split, changed),
        touch: { kind: 'vlan', name: first.name },
      };
    }
  },
});

function fixOf({ id, vlans, until }: SplitVlan, changed: readonly Vlan[]): string {
  if (id === undefined) return 'free an id and give it to all of them, in the plans and on every switch';
  const own = vlans.some((vlan) => vlan.id === id);
  const first =
    until.length === 0
      ? ''
      : `, once ${listNames(byLabel(until.map(withRig), (name) => name))} ${until.length === 1 ? 'has' : 'have'} given it up`;
  return `give ${listNames(changed.map(withRig))} id ${id}${own ? '' : ', which is free,'} in the plan and on every switch${first}`;
}

function note(vlan: Vlan, { id }: SplitVlan): string {
  return `VLAN ${withRig(vlan)}${vlan.id === undefined || vlan.id === id || id === undefined ? '' : `: ${id} instead of ${vlan.id}`}`;
}
