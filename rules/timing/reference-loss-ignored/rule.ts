import { createEditList, likely, setClocks } from '../../../src/doors/cures.js';
import { clause, commonPractice, defineRule, noted } from '../../../src/doors/rule.js';
import {
  clockMark,
  clockTouch,
  compareQualities,
  islandSubject,
  keptLead,
  settledIslands,
} from '../../../src/doors/timing.js';
import { words, type Facts, type Note } from './words.js';

export default defineRule<Facts, Note>({
  id: 'timing/reference-loss-ignored',
  summary: 'A grandmaster that loses its reference keeps the lead before one that has it',
  severity: 'warning',
  sources: [
    clause('IEEE 1588-2008', '9.3.4'),
    clause('IEEE 1588-2008', '7.6.2.4'),
    commonPractice('grandmasters have one priority1, and priority2 puts them in order'),
  ],
  needs: ['clocks', 'grandmasters'],
  brief: 'lost reference changes nothing',
  harm: 'later',
  *check({ model }) {
    for (const island of settledIslands(model.timing)) {
      const found = keptLead(island);
      if (found === undefined) continue;
      const { leader, classes, better, followers } = found;
      const { priority1 } = leader.quality;
      const names = better.map(({ name }) => name);
      yield {
        subject: islandSubject(island),
        parties: [leader.name, ...names],
        cure: () => {
          const edits = createEditList();
          setClocks(model, edits, better, { priority1 });
          // Once the class is equal, the same one is to lead as before.
          const isFirst = better.every(
            ({ quality }) => compareQualities(leader.quality, { ...quality, priority1 }).order < 0,
          );
          const isOrdered = better.every(({ quality }) => quality.priority2 !== leader.quality.priority2);
          if (!isFirst || !isOrdered)
            [leader, ...better].forEach((one, index) => {
              setClocks(model, edits, [one], { priority2: index + 1 });
            });
          return likely(edits);
        },
        facts: {
          domain: leader.domain,
          leader: leader.name,
          priority1,
          clockClass: leader.quality.clockClass,
          classes,
          better: better.map(({ name, quality }) => ({ name, priority1: quality.priority1 })),
          followers,
        },
        at: noted(clockMark(leader, 'priority1'), 'leads'),
        others: better.map((one) => noted(clockMark(one, 'priority1'), 'stands by')),
        touch: clockTouch(leader),
      };
    }
  },
  words,
});
