import {
  clause,
  clockMark,
  clockTouch,
  clocksByName,
  commonPractice,
  defineRule,
  intendedLeaders,
  isTraceable,
  isUntraceable,
  islandSubject,
  listNames,
  settledIslands,
} from '../../../src/lint/rule.js';

export default defineRule({
  id: 'timing/worse-backup',
  summary: 'The backup grandmaster has no reference',
  severity: 'warning',
  sources: [clause('IEEE 1588-2008', '7.6.2.4'), commonPractice('both grandmasters have a reference')],
  needs: ['clocks', 'grandmasters'],
  *check({ model }) {
    for (const island of settledIslands(model.timing)) {
      const followed = new Set(island.leaders.flatMap(({ clock, followers }) => (followers > 0 ? [clock] : [])));
      const [main, ...rest] = intendedLeaders(island);
      if (main === undefined || !followed.has(main) || followed.size > 1 || !isTraceable(main)) continue;
      // One good backup is enough: it goes before the others by its class.
      if (rest.some((one) => !isUntraceable(one))) continue;
      const worse = clocksByName(rest);
      const [first] = worse;
      if (first === undefined) continue;
      const names = worse.map(({ name }) => name);
      yield {
        subject: islandSubject(island),
        parties: [main.name, ...names],
        what: `${main.name} has a reference (clock class ${main.quality.clockClass}), its backup ${listNames(worse.map(({ name, quality, settings }) => `${name} (${settings.traceable === false ? 'not traceable' : `clock class ${quality.clockClass}`})`))} has none`,
        at: clockMark(first, 'no reference', first.settings.traceable === false ? 'traceable' : 'clockClass'),
        others: [
          ...worse.slice(1).map((one) => clockMark(one, 'no reference', 'clockClass')),
          clockMark(main, 'has a reference', 'clockClass'),
        ],
        onAir: `when ${main.name} fails, the backup carries on with its own time of day: everything steps by the difference at once, and again when ${main.name} is back`,
        fix: `lock ${listNames(names)} to a primary reference too: an antenna of its own, clock class 6`,
        touch: clockTouch(first),
      };
    }
  },
});
