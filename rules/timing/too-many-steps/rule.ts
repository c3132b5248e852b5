import { clause, commonPractice, defineRule, noted } from '../../../src/doors/rule.js';
import {
  clockMark,
  clockTouch,
  clocksByName,
  islandSubject,
  settledIslands,
  type Clock,
} from '../../../src/doors/timing.js';
import { words, type Facts, type Note } from './words.js';

export default defineRule<Facts, Note>({
  id: 'timing/too-many-steps',
  summary: 'A clock stands too many boundary clocks away from its grandmaster',
  severity: 'warning',
  confidence: 'likely',
  people: 'where clocks are to hang',
  sources: [
    clause('IEEE 1588-2008', '9.3.2.5'),
    commonPractice('every boundary clock on the path adds its own error, so a media rig keeps the chain short'),
  ],
  needs: ['clocks'],
  brief: 'too many boundary clocks',
  thresholds: { steps: { default: 7, what: 'steps a clock may stand from its grandmaster' } },
  harm: 'later',
  *check({ model: { timing }, threshold }) {
    const mostOf = (clock: Clock): number => threshold('steps', clock.rig);
    const stepsOf = (clock: Clock): number => timing.outcomeOf(clock)?.stepsRemoved ?? 0;
    for (const island of settledIslands(timing)) {
      const far = clocksByName(island.clocks.filter((clock) => stepsOf(clock) > mostOf(clock)));
      // The chain is too long where it first passes the limit; what hangs behind is the same fault.
      const first = far.find((clock) => stepsOf(clock) === mostOf(clock) + 1);
      const outcome = first === undefined ? undefined : timing.outcomeOf(first);
      if (first === undefined || outcome === undefined) continue;
      const names = far.map(({ name }) => name);
      const grandmaster = outcome.grandmaster.name;
      yield {
        subject: islandSubject(island),
        parties: names,
        facts: {
          clocks: names,
          first: first.name,
          grandmaster,
          farthest: Math.max(...far.map(stepsOf)),
          most: mostOf(first),
        },
        at: noted(clockMark(first), { steps: outcome.stepsRemoved, grandmaster }),
        others: far.filter((clock) => clock !== first).map((clock) => clockMark(clock)),
        touch: clockTouch(first),
      };
    }
  },
  words,
});
