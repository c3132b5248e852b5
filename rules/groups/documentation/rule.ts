import {
  byLabel,
  clause,
  defineRule,
  formatAddress,
  groupsOf,
  groupWords,
  inRig,
  legLabel,
  legSets,
  listNames,
  mark,
  moveWords,
  otherMarks,
  touchOf,
} from '../../../src/lint/rule.js';

export default defineRule({
  id: 'groups/documentation',
  summary: 'A stream uses a group that exists for examples only',
  severity: 'warning',
  sources: [clause('RFC 6676', '2'), clause('RFC 6676', '3'), clause('RFC 5771', '9.2')],
  needs: ['groups'],
  *check({ model }) {
    const sets = legSets(
      model.misplaced.get('documentation') ?? [],
      ({ sender }) => `example groups${inRig(sender.rig)}`,
    );
    for (const set of byLabel(sets, ({ subject }) => subject)) {
      const { first, legs, names, subject } = set;
      if (first.group === undefined) continue;
      const many = groupsOf(legs).length > 1;
      yield {
        subject,
        parties: names,
        what: `${groupWords(legs)} of ${listNames(names)} ${many ? 'are' : 'is'} set aside for examples in documents, likely copied from one`,
        at: mark(first, `${legLabel(first)}: ${formatAddress(first.group)}`, 'group'),
        others: otherMarks(set),
        onAir:
          'it works until something drops example addresses, as networks that carry the feed onwards do: the stream then never arrives there',
        fix: moveWords(model, legs),
        touch: touchOf(first.sender),
      };
    }
  },
});
