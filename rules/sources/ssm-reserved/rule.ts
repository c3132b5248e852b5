import { regroup } from '../../../src/doors/cures.js';
import {
  byLabel,
  clause,
  defineRule,
  formatAddress,
  isIPv4,
  legLabel,
  mark,
  noted,
  touchOf,
  type Address,
  movesOf,
} from '../../../src/doors/rule.js';
import { groupProblems6 } from '../../../src/doors/sources.js';
import { words, type Facts, type Reserved } from './words.js';

export default defineRule<Facts, 'reserved'>({
  id: 'sources/ssm-reserved',
  summary: 'A stream uses a source-specific group that nobody may pick for himself',
  severity: 'error',
  sources: [clause('RFC 4607', '4.3'), clause('RFC 4607', '9')],
  needs: ['groups'],
  brief: 'reserved source-specific group',
  *check({ model }) {
    for (const leg of byLabel(model.unusualLegs.groups, legLabel)) {
      const { group, sender } = leg;
      const reserved = group === undefined ? undefined : reservation(group);
      if (group === undefined || reserved === undefined) continue;
      const name = formatAddress(group);
      yield {
        subject: `${name} of ${legLabel(leg)}`,
        parties: [sender.label],
        cure: () => regroup(model, [leg]),
        facts: { leg, group: name, reserved, moves: movesOf(model, [leg]) },
        at: noted(mark(leg, legLabel(leg), 'group'), 'reserved'),
        touch: touchOf(sender),
      };
    }
  },
  words,
});

const FIRST_4 = 0xe8000000;
const LAST_4 = 0xe80000ff;

/** 232.0.0.0/24, or ff3x::4000:0 to ff3x::7fff:ffff (RFC 4607 §4.3, §9). */
function reservation(group: Address): Reserved | undefined {
  if (isIPv4(group))
    return group === FIRST_4 ? 'no-destination' : group > FIRST_4 && group <= LAST_4 ? 'iana-4' : undefined;
  return groupProblems6(group).some(({ kind }) => kind === 'source-specific-reserved') ? 'iana-6' : undefined;
}
