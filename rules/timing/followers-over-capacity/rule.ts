import { byLabel, clauseFromMemory, commonPractice, defineRule } from '../../../src/doors/rule.js';
import { clockMark, clockSubject, clockTouch } from '../../../src/doors/timing.js';
import { words, type Facts } from './words.js';

export default defineRule<Facts>({
  id: 'timing/followers-over-capacity',
  summary: 'A clock has more followers than it can serve',
  severity: 'error',
  people: 'which boundary clock is to stand between',
  sources: [
    clauseFromMemory('IEEE 1588-2008', '9.5.11'),
    commonPractice('makers state how many followers a clock serves'),
  ],
  needs: ['clocks', 'clockCapacities'],
  brief: 'more followers than it serves',
  harm: 'spoils',
  *check({ model: { timing } }) {
    const over = timing.loads.filter(({ isOver }) => isOver);
    for (const { clock, followers, delayRequestsPerSecond } of byLabel(over, ({ clock: one }) => clockSubject(one))) {
      const { capacity = Infinity, delayRequestCapacity = Infinity } = clock.settings;
      const many = followers > capacity;
      if (!many && clock.assumed.has('logMinDelayReqInterval')) continue;
      yield {
        subject: clockSubject(clock),
        parties: [clock.name],
        facts: {
          clock: clock.name,
          followers,
          ...(many
            ? { form: 'followers', capacity }
            : {
                form: 'requests',
                requestsPerSecond: delayRequestsPerSecond,
                capacityPerSecond: delayRequestCapacity,
                mostFollowers: Math.floor(delayRequestCapacity / (delayRequestsPerSecond / followers)),
              }),
        },
        at: clockMark(clock, many ? 'capacity' : 'delayRequestCapacity'),
        touch: clockTouch(clock),
      };
    }
  },
  words,
});
