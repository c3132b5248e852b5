import {
  byLabel,
  clockMark,
  clockSubject,
  clockTouch,
  clause,
  commonPractice,
  defineRule,
} from '../../../src/lint/rule.js';

export default defineRule({
  id: 'timing/followers-over-capacity',
  summary: 'A clock has more followers than it can serve',
  severity: 'error',
  sources: [clause('IEEE 1588-2008', '9.5.11'), commonPractice('makers state how many followers a clock serves')],
  needs: ['clocks', 'clockCapacities'],
  *check({ model: { timing } }) {
    const over = timing.loads.filter(({ isOver }) => isOver);
    for (const { clock, followers, delayRequestsPerSecond } of byLabel(over, ({ clock: one }) => clockSubject(one))) {
      const { capacity = Infinity, delayRequestCapacity = Infinity } = clock.settings;
      const many = followers > capacity;
      if (!many && clock.assumed.has('logMinDelayReqInterval')) continue;
      const perFollower = delayRequestsPerSecond / followers;
      yield {
        subject: clockSubject(clock),
        parties: [clock.name],
        what: many
          ? `${followers} clocks follow ${clock.name} directly, and it serves ${capacity}`
          : `${followers} clocks send ${clock.name} ${delayRequestsPerSecond} delay requests a second, and it answers ${delayRequestCapacity}`,
        at: clockMark(clock, undefined, many ? 'capacity' : 'delayRequestCapacity'),
        onAir:
          'delay requests go unanswered: some clocks never lock or lose lock, other ones each time, and their pictures and sound drift',
        fix: many
          ? `let a boundary clock stand between ${clock.name} and its followers, so that no more than ${capacity} follow it directly`
          : `let boundary clocks answer for it, no more than ${Math.floor(delayRequestCapacity / perFollower)} clocks to follow it directly, or send fewer delay requests`,
        touch: clockTouch(clock),
      };
    }
  },
});
