import { createEditList, likely, peopleDecide } from '../../../src/doors/cures.js';
import { byLabel, commonPractice, defineRule, inRig, mark, otherPlaces, type Mark } from '../../../src/doors/rule.js';
import { clockMark, clockTouch, PROFILE_NAMES, unknownProfiles, type ProfileUser } from '../../../src/doors/timing.js';
import { words, type Facts } from './words.js';

export default defineRule<Facts>({
  id: 'timing/unknown-profile',
  summary: 'A PTP profile that is not known here',
  severity: 'warning',
  sources: [commonPractice('a domain and its clocks name the profile that their gear is set to')],
  needs: ['ptpProfiles'],
  brief: 'unknown PTP profile',
  harm: 'paper',
  *check({ plan, model }) {
    for (const { name, meant, users } of unknownProfiles(plan, model.timing.facts)) {
      const sorted = byLabel(users, labelOf);
      const [first, ...rest] = sorted;
      const at = markOf(first);
      yield {
        subject: `profile ${name}${inRig(first.rig)}`,
        parties: sorted.map(labelOf),
        severity: meant === undefined ? 'note' : 'warning',
        confidence: 'likely',
        cure: () => {
          if (meant === undefined) return peopleDecide('which profile is meant; it may be one that is not known here');
          const edits = createEditList();
          for (const { entity } of sorted) edits.setWhereWritten(entity, 'profile', meant);
          return likely(edits);
        },
        facts: { name, meant, known: PROFILE_NAMES, users: sorted.map(labelOf) },
        at,
        others: otherPlaces(at, rest.map(markOf)),
        touch: first.kind === 'domain' ? { kind: 'plan', name: 'timing' } : clockTouch(first.clock),
      };
    }
  },
  words,
});

function labelOf(user: ProfileUser): string {
  return user.kind === 'domain' ? `domain ${user.domain.number ?? user.domain.name ?? ''}` : user.clock.name;
}

function markOf(user: ProfileUser): Mark<never> {
  return user.kind === 'domain' ? mark(user.entity, labelOf(user), 'profile') : clockMark(user.clock, 'profile');
}
