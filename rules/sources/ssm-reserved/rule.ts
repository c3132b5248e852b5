import {
  byLabel,
  clause,
  defineRule,
  formatAddress,
  groupProblems6,
  isIPv4,
  legLabel,
  mark,
  touchOf,
  type Address,
  type Leg,
} from '../../../src/lint/rule.js';

export default defineRule({
  id: 'sources/ssm-reserved',
  summary: 'A stream uses a source-specific group that nobody may pick for himself',
  severity: 'error',
  sources: [clause('RFC 4607', '4.3'), clause('RFC 4607', '9')],
  needs: ['groups'],
  *check({ model }) {
    for (const leg of byLabel(model.unusualGroups.filter(isReserved), legLabel)) {
      const { group, sender } = leg;
      if (group === undefined) continue;
      const name = formatAddress(group);
      yield {
        subject: `${name} of ${legLabel(leg)}`,
        parties: [sender.label],
        what: `${legLabel(leg)} sends to ${name}, which ${why(group)}`,
        at: mark(leg, `${legLabel(leg)}: sends to a reserved group`, 'group'),
        onAir: isIPv4(group)
          ? 'many switches treat this group like control traffic and flood it to every port; some gear refuses to send or join it, so the stream never arrives'
          : 'gear that keeps to the standard refuses to send or join it, so the stream never arrives',
        fix: isIPv4(group)
          ? 'give it a free group from 232.0.1.0 upwards (not in 232.128.0.0/24, which switches flood too)'
          : 'give it a group with an identifier from 8000:0 to ffff:ffff, as in ff3x::8000:1',
        touch: touchOf(sender),
      };
    }
  },
});

const FIRST_4 = 0xe8000000;
const LAST_4 = 0xe80000ff;

/** 232.0.0.0/24, or ff3x::4000:0 to ff3x::7fff:ffff (RFC 4607 §4.3, §9). */
function isReserved({ group }: Leg): boolean {
  if (group === undefined) return false;
  if (isIPv4(group)) return group >= FIRST_4 && group <= LAST_4;
  return groupProblems6(group).some(({ kind }) => kind === 'source-specific-reserved');
}

function why(group: Address): string {
  if (group === FIRST_4) return 'must not be used as a destination';
  if (isIPv4(group)) return 'lies in 232.0.0.0/24, kept for assignment by IANA';
  const problem = groupProblems6(group).find(({ kind }) => kind === 'source-specific-reserved');
  return `is no free source-specific group: ${problem?.title ?? ''}`;
}
