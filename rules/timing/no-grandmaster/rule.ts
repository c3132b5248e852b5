import { clauseFromMemory, defineRule, noted } from '../../../src/doors/rule.js';
import { createEditList, likely, peopleDecide, setClocks } from '../../../src/doors/cures.js';
import { clockMark, clockTouch, islandSubject, leaderless, unplannedDomains } from '../../../src/doors/timing.js';
import { words, type Facts, type Note } from './words.js';

export default defineRule<Facts, Note>({
  id: 'timing/no-grandmaster',
  summary: 'Clocks follow, and nobody can lead them',
  severity: 'error',
  sources: [clauseFromMemory('IEEE 1588-2008', '9.2.2'), clauseFromMemory('IEEE 1588-2008', '9.3.3')],
  needs: ['clocks'],
  brief: 'no grandmaster',
  harm: 'spoils',
  *check({ plan, model }) {
    const { timing } = model;
    // In a domain nobody plans, nobody leads: the domain is the fault, `timing/domain-differs`.
    const astray = new Set(unplannedDomains(plan, timing).flatMap(({ clocks }) => clocks));
    for (const { group, clocks, others } of leaderless(timing)) {
      if (clocks.every((one) => astray.has(one))) continue;
      const names = clocks.map(({ name }) => name);
      const meant = clocks.find(({ meantToLead }) => meantToLead);
      const place = meant ?? clocks[0];
      yield {
        subject: islandSubject({ group, clocks }),
        parties: names,
        cure: () => {
          const able = clocks.filter(({ meantToLead }) => meantToLead);
          if (meant === undefined || able.length < 2)
            return peopleDecide('which clocks are to lead here, and what each is locked to');
          const edits = createEditList();
          for (const clock of able)
            setClocks(model, edits, [clock], {
              slaveOnly: false,
              ...(clock.quality.clockClass === 255 ? { clockClass: 6 } : {}),
            });
          return likely(edits);
        },
        facts: { domain: group.domain, clocks: names, meant: meant?.name, others },
        at: noted(clockMark(place, 'slaveOnly'), meant === undefined ? 'hears no leader' : 'meant to lead'),
        others: clocks.filter((one) => one !== place).map((one) => clockMark(one, 'slaveOnly')),
        touch: clockTouch(place),
      };
    }
  },
  words,
});
