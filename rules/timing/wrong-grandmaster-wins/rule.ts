import { clauseFromMemory, commonPractice, defineRule, noted } from '../../../src/doors/rule.js';
import {
  advantageOf,
  clockMark,
  clockSubject,
  clockTouch,
  isEndDevice,
  keyOfVictory,
  settledIslands,
  wrongLeaders,
} from '../../../src/doors/timing.js';
import { words, type Facts, type Note } from './words.js';

export default defineRule<Facts, Note>({
  id: 'timing/wrong-grandmaster-wins',
  summary: 'A clock that is not meant to lead wins the election',
  severity: 'error',
  sources: [
    clauseFromMemory('IEEE 1588-2008', '9.3.3'),
    clauseFromMemory('IEEE 1588-2008', '9.3.4'),
    commonPractice('cameras and stage boxes only follow'),
  ],
  needs: ['clocks', 'grandmasters'],
  brief: 'another clock leads',
  *check({ model }) {
    for (const found of settledIslands(model.timing).flatMap(wrongLeaders)) {
      const { leader, followers } = found;
      const led = { leader: leader.name, domain: leader.domain, followers };
      const about = { subject: clockSubject(leader), touch: clockTouch(leader) };
      if (found.form === 'unintended') {
        const { intended, victory, isSplit } = found;
        const { priority1 } = intended.quality;
        yield {
          ...about,
          parties: [leader.name, intended.name],
          severity: isEndDevice(leader) || isSplit ? 'error' : 'warning',
          facts: {
            form: 'unintended',
            ...led,
            intended: { name: intended.name, priority1 },
            victory,
            isSplit,
            isEndDevice: isEndDevice(leader),
          },
          at: noted(clockMark(leader, keyOfVictory(victory, leader)), 'unintended'),
          others: [noted(clockMark(intended, keyOfVictory(victory, intended)), 'intended')],
        };
      } else {
        const { better } = found;
        const [first] = better;
        const names = better.map(({ name }) => name);
        yield {
          ...about,
          parties: [leader.name, ...names],
          facts: {
            form: 'no reference',
            ...led,
            clockClass: leader.quality.clockClass,
            better: names,
            betterClass: first.quality.clockClass,
            advantage: advantageOf(leader, first, 'priority1'),
            lowestPriority1: Math.min(...[leader, ...better].map(({ quality }) => quality.priority1)),
          },
          at: noted(clockMark(leader, 'priority1'), 'without reference'),
          others: better.map((one) => noted(clockMark(one, 'priority1'), 'with reference')),
        };
      }
    }
  },
  words,
});
