import {
  clause,
  clockMark,
  clockTouch,
  clocksByName,
  defineRule,
  intendedLeaders,
  islandSubject,
  listNames,
  settledIslands,
} from '../../../src/lint/rule.js';

export default defineRule({
  id: 'timing/follower-outranks',
  summary: 'A clock that only follows claims to be better than its grandmaster',
  severity: 'error',
  sources: [clause('IEEE 1588-2008', '9.2.5'), clause('IEEE 1588-2008', '9.3.3')],
  needs: ['clocks'],
  *check({ model: { timing } }) {
    for (const island of settledIslands(timing)) {
      const clocks = clocksByName(island.clocks.filter((one) => timing.clockRoleOf(one) === 'outranks'));
      const [first] = clocks;
      if (first === undefined) continue;
      const [leader = island.leaders[0]?.clock] = intendedLeaders(island);
      const names = clocks.map(({ name }) => name);
      yield {
        subject: islandSubject(island),
        parties: names,
        what: `${listNames(clocks.map(({ name, quality }) => `${name} (priority1 ${quality.priority1})`))} ${names.length === 1 ? 'only follows, and outranks' : 'only follow, and outrank'} ${leader === undefined ? 'all others' : `${leader.name} (priority1 ${leader.quality.priority1})`} in domain ${first.domain}`,
        at: clockMark(first, 'outranks what it hears', 'priority1'),
        others: [
          ...clocks.slice(1).map((one) => clockMark(one, undefined, 'priority1')),
          ...(leader === undefined ? [] : [clockMark(leader, 'outranked', 'priority1')]),
        ],
        onAir: `${names.length === 1 ? 'it hears its grandmaster, takes itself for the better one, may not lead and never follows: its' : 'they hear their grandmaster, take themselves for the better ones, may not lead and never follow: their'} pictures and sound drift from switch-on`,
        fix: `set priority1 255 on ${listNames(names)}`,
        touch: clockTouch(first),
      };
    }
  },
});
