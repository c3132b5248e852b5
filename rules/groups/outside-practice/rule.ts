import {
  classifyGroup4,
  clause,
  defineRule,
  formatAddress,
  formatPrefix,
  groupsOf,
  groupWords,
  inRig,
  legLabel,
  legSets,
  listNames,
  mark,
  otherMarks,
  touchOf,
  whereTo,
  type Leg,
} from '../../../src/lint/rule.js';

export default defineRule({
  id: 'groups/outside-practice',
  summary: "Streams use groups outside the blocks this plan's practice allows",
  severity: 'warning',
  sources: [clause('RFC 2365', '6'), clause('RFC 4607', '1'), clause('AES67-2018', '7.6')],
  needs: ['groups'],
  *check({ model }) {
    const sets = legSets(
      model.misplaced.get('outside-practice') ?? [],
      (leg) => `${blockOf(leg)}${inRig(leg.sender.rig)}`,
    );
    for (const set of sets) {
      const { first, legs, names, subject } = set;
      if (first.group === undefined) continue;
      const { practice } = first.sender.rig;
      const many = groupsOf(legs).length > 1;
      const ranges = practice.groupRanges
        .filter(({ network }) => typeof network === typeof first.group)
        .map(formatPrefix);
      yield {
        subject,
        parties: names,
        what: `${groupWords(legs)} of ${listNames(names)} ${many ? 'lie' : 'lies'} outside ${ranges.length === 0 ? 'every block' : listNames(ranges, 3)} of this plan's practice (${practice.cites})`,
        at: mark(first, `${legLabel(first)}: ${formatAddress(first.group)}`, 'group'),
        others: otherMarks(set),
        onAir:
          'gear set up for the practice may refuse the group or treat it as another kind: its receivers stay black',
        fix: `move ${many ? 'each' : 'it'} to a free group in ${whereTo(model, legs)}; if the block is meant, state it under \`practice\``,
        touch: touchOf(first.sender),
      };
    }
  },
});

function blockOf({ group }: Leg): string {
  return typeof group === 'number' ? classifyGroup4(group).title : 'IPv6 groups';
}
