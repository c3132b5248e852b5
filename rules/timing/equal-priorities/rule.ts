import { clause, commonPractice, defineRule, lastOf, noted } from '../../../src/doors/rule.js';
import { createEditList, certainly, setClocks } from '../../../src/doors/cures.js';
import {
  clockMark,
  clockTouch,
  compareQualities,
  formatClockIdentity,
  islandSubject,
  settledIslands,
  tiedLeaders,
  type Clock,
} from '../../../src/doors/timing.js';
import { words, type Facts } from './words.js';

export default defineRule<Facts, 'reorder'>({
  id: 'timing/equal-priorities',
  summary: 'Between two grandmasters only the clock identity decides',
  severity: 'warning',
  sources: [clause('IEEE 1588-2008', '9.3.4'), commonPractice('priority2 puts equal grandmasters in order')],
  needs: ['clocks', 'grandmasters'],
  brief: 'only the identity decides',
  harm: 'later',
  *check({ model }) {
    for (const island of settledIslands(model.timing)) {
      for (const clocks of tiedLeaders(island)) {
        const names = clocks.map(({ name }) => name);
        const last = lastOf(clocks);
        const { priority1, priority2, clockClass } = last.quality;
        const isOpen = clocks.some(
          ({ assumed }) => assumed.has('clockAccuracy') || assumed.has('offsetScaledLogVariance'),
        );
        const isClassOpen = clocks.some(({ assumed }) => assumed.has('clockClass'));
        yield {
          subject: islandSubject(island),
          parties: names,
          // With a reference the class of one may be lower, and decide.
          severity: isClassOpen ? 'note' : 'warning',
          confidence: isOpen || isClassOpen ? 'assumed' : 'certain',
          cure: () => {
            const edits = createEditList();
            clocks.forEach((clock, index) => {
              setClocks(model, edits, [clock], { priority2: index + 1 });
            });
            return certainly(edits);
          },
          facts: {
            domain: last.domain,
            clocks: names,
            priority1,
            clockClass,
            priority2,
            isOpen: isOpen || isClassOpen,
            winner: winnerOf(clocks),
          },
          at: noted(clockMark(last, 'priority2'), 'reorder'),
          others: clocks.slice(0, -1).map((one) => clockMark(one, 'priority2')),
          touch: clockTouch(last),
        };
      }
    }
  },
  words,
});

/** By the lowest identity, where the plan tells all of them. */
function winnerOf(clocks: readonly Clock[]): Facts['winner'] {
  if (clocks.some(({ assumed }) => assumed.has('identity'))) return undefined;
  const [winner] = clocks.toSorted((a, b) => compareQualities(a.quality, b.quality).order);
  return winner === undefined
    ? undefined
    : { name: winner.name, identity: formatClockIdentity(winner.quality.identity) };
}
