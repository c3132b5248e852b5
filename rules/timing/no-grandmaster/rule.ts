import { clauseFromMemory, defineRule, noted } from '../../../src/doors/rule.js';
import { clockMark, clockTouch, islandSubject, leaderless } from '../../../src/doors/timing.js';
import { words, type Facts, type Note } from './words.js';

export default defineRule<Facts, Note>({
  id: 'timing/no-grandmaster',
  summary: 'Clocks follow, and nobody can lead them',
  severity: 'error',
  sources: [clauseFromMemory('IEEE 1588-2008', '9.2.2'), clauseFromMemory('IEEE 1588-2008', '9.3.3')],
  needs: ['clocks'],
  brief: 'no grandmaster',
  harm: 'spoils',
  *check({ model: { timing } }) {
    for (const { group, clocks, others } of leaderless(timing)) {
      const names = clocks.map(({ name }) => name);
      const meant = clocks.find(({ meantToLead }) => meantToLead);
      const place = meant ?? clocks[0];
      yield {
        subject: islandSubject({ group, clocks }),
        parties: names,
        facts: { domain: group.domain, clocks: names, meant: meant?.name, others },
        at: noted(clockMark(place, 'slaveOnly'), meant === undefined ? 'hears no leader' : 'meant to lead'),
        others: clocks.filter((one) => one !== place).map((one) => clockMark(one, 'slaveOnly')),
        touch: clockTouch(place),
      };
    }
  },
  words,
});
