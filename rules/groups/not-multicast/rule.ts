import {
  byLabel,
  clause,
  defineRule,
  formatAddress,
  groupWords,
  inRig,
  isUnspecified,
  legLabel,
  legSets,
  mark,
  moveWords,
  nothingOf,
  otherMarks,
  touchOf,
} from '../../../src/lint/rule.js';

const IPV4 = [clause('RFC 1112', '4')];
const IPV6 = [clause('RFC 4291', '2.7')];

export default defineRule({
  id: 'groups/not-multicast',
  summary: 'A group is not a multicast address',
  severity: 'error',
  sources: [...IPV4, ...IPV6],
  needs: ['groups'],
  *check({ model }) {
    const sets = legSets(
      model.misplaced.get('not-multicast') ?? [],
      ({ sender }) => `${sender.label}${inRig(sender.rig)}`,
    );
    for (const set of byLabel(sets, ({ subject }) => subject)) {
      const { first, legs, names, subject } = set;
      if (first.group === undefined) continue;
      const groups = groupWords(legs);
      const empty = legs.every(({ group }) => group !== undefined && isUnspecified(group));
      yield {
        subject,
        parties: names,
        what: empty
          ? `${groups} of ${first.sender.label} is the address of nothing: nobody has given this stream a group yet`
          : `${groups} of ${first.sender.label} ${legs.length === 1 ? 'is' : 'are'} outside ${typeof first.group === 'number' ? '224.0.0.0-239.255.255.255' : 'ff00::/8'}, so no receiver can join`,
        at: mark(first, `${legLabel(first)}: ${formatAddress(first.group)}`, 'group'),
        others: otherMarks(set),
        onAir: `${nothingOf(legs.map(({ sender }) => sender))} at any receiver: the sender sends nothing, or sends to a single host`,
        fix: empty
          ? moveWords(model, legs, 'give')
          : `${moveWords(model, legs, 'give')}; if one host is meant, write its address as \`unicast\` instead of \`group\``,
        touch: touchOf(first.sender),
        sources: typeof first.group === 'number' ? IPV4 : IPV6,
      };
    }
  },
});
