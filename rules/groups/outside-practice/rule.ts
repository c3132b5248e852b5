import { regroup } from '../../../src/doors/cures.js';
import { clause, defineRule, formatPrefix, inRig, type Leg } from '../../../src/doors/rule.js';
import { classifyGroup4, destinationsOf, legSets, setDraft } from '../../../src/doors/groups.js';
import { words, type Facts } from './words.js';

export default defineRule<Facts, string>({
  id: 'groups/outside-practice',
  summary: "Streams use groups outside the blocks this plan's practice allows",
  severity: 'warning',
  sources: [clause('RFC 2365', '6'), clause('RFC 4607', '1'), clause('AES67-2018', '7.6')],
  needs: ['groups'],
  brief: "group outside the practice's blocks",
  harm: 'paper',
  *check({ model }) {
    const outside = model.misplaced.get('outside-practice') ?? [];
    for (const set of legSets(outside, (leg) => `${blockOf(leg)}${inRig(leg.sender.rig)}`)) {
      const { first, legs } = set;
      const { groupRanges, cites } = first.sender.rig.practice;
      const ranges = groupRanges.filter(({ network }) => typeof network === typeof first.group);
      yield {
        ...setDraft(set),
        cure: () => regroup(model, legs),
        facts: { legs, allowed: ranges.map(formatPrefix), practice: cites, to: destinationsOf(model, legs) },
      };
    }
  },
  words,
});

function blockOf({ group }: Leg): string {
  return typeof group === 'number' ? classifyGroup4(group).title : 'IPv6 groups';
}
