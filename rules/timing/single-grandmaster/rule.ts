import { clauseFromMemory, commonPractice, defineRule, noted } from '../../../src/doors/rule.js';
import {
  clockMark,
  clockTouch,
  intendedLeaders,
  isPlaced,
  islandSubject,
  isUntraceable,
  leadersElsewhere,
  lossOfClocks,
  settledIslands,
} from '../../../src/doors/timing.js';
import { words, type Facts, type Note } from './words.js';

export default defineRule<Facts, Note>({
  id: 'timing/single-grandmaster',
  summary: 'A domain has a single grandmaster',
  severity: 'warning',
  people: 'which box is to be the second grandmaster',
  sources: [clauseFromMemory('IEEE 1588-2008', '9.3.3'), commonPractice('two grandmasters a domain')],
  needs: ['clocks', 'grandmasters'],
  brief: 'single grandmaster',
  harm: 'later',
  *check({ model: { timing } }) {
    for (const island of settledIslands(timing)) {
      const [only, second] = intendedLeaders(island);
      if (only === undefined || second !== undefined) continue;
      const followers = island.leaders.find(({ clock }) => clock === only)?.followers ?? 0;
      if (followers === 0 || island.leaders.some((one) => one.followers > 0 && one.clock !== only)) continue;
      const away = leadersElsewhere(only, island, timing);
      // It may stand here: its VLAN is not stated.
      if (away.some((one) => !isPlaced(one))) continue;
      const [next] = timing.without(lossOfClocks([only])).handovers;
      yield {
        subject: islandSubject(island),
        parties: [only.name],
        facts: {
          clock: only.name,
          domain: only.domain,
          followers,
          priority1: only.quality.priority1,
          priority2: only.quality.priority2,
          away: away.map(({ name }) => name),
          next: next === undefined ? undefined : { name: next.to.name, isFreeRunning: isUntraceable(next.to) },
        },
        at: noted(clockMark(only), 'alone'),
        others: away.map((one) => noted(clockMark(one), 'away')),
        touch: clockTouch(only),
      };
    }
  },
  words,
});
