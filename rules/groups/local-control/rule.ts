import {
  assignedGroup4,
  assignedGroup6,
  clause,
  defineRule,
  formatAddress,
  groupWords,
  inRig,
  legLabel,
  legSets,
  listNames,
  mark,
  otherMarks,
  touchOf,
  whereTo,
} from '../../../src/lint/rule.js';

export default defineRule({
  id: 'groups/local-control',
  summary: 'A stream uses a group that belongs to the control protocols of the link',
  severity: 'error',
  sources: [clause('RFC 5771', '4'), clause('RFC 4291', '2.7'), clause('RFC 4541', '2.1.2')],
  needs: ['groups'],
  *check({ model }) {
    const sets = legSets(
      model.misplaced.get('link-control') ?? [],
      ({ group, sender }) => `${formatAddress(group ?? 0)}${inRig(sender.rig)}`,
    );
    for (const set of sets) {
      const { first, legs, names, subject } = set;
      const { group } = first;
      if (group === undefined) continue;
      const owner = typeof group === 'number' ? assignedGroup4(group) : assignedGroup6(group);
      const block = typeof group === 'number' ? '224.0.0.0/24' : 'ff02::/16';
      yield {
        subject,
        parties: names,
        what: `${groupWords(legs)} of ${listNames(names)} lies in ${block}, which is for the control protocols of the link${owner === undefined ? '' : `; this one is ${owner.protocol}'s`}`,
        at: mark(first, `${legLabel(first)}: ${formatAddress(group)}`, 'group'),
        others: otherMarks(set),
        onAir: `${typeof group === 'number' ? 'switches send it to every port of the VLAN, joined or not, so slow ports drop packets' : 'every host that listens to the protocol gets the stream'}; no router ever passes it on, so receivers in other VLANs stay black`,
        fix: `move it to a free group in ${whereTo(model, legs)}`,
        touch: touchOf(first.sender),
      };
    }
  },
});
