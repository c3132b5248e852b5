import { clause, commonPractice, defineRule, isNonEmpty, noted } from '../../../src/doors/rule.js';
import {
  clockMark,
  clockTouch,
  clocksByName,
  intendedLeaders,
  islandSubject,
  isTraceable,
  isUntraceable,
  settledIslands,
} from '../../../src/doors/timing.js';
import { words, type Facts, type Note } from './words.js';

export default defineRule<Facts, Note>({
  id: 'timing/worse-backup',
  summary: 'The backup grandmaster has no reference',
  severity: 'warning',
  people: 'whether the backup gets an antenna of its own',
  sources: [clause('IEEE 1588-2008', '7.6.2.4'), commonPractice('both grandmasters have a reference')],
  needs: ['clocks', 'grandmasters'],
  brief: 'backup has no reference',
  harm: 'later',
  *check({ model }) {
    for (const island of settledIslands(model.timing)) {
      const followed = new Set(island.leaders.flatMap(({ clock, followers }) => (followers > 0 ? [clock] : [])));
      const [main, ...rest] = intendedLeaders(island);
      if (main === undefined || !followed.has(main) || followed.size > 1 || !isTraceable(main)) continue;
      // One good backup is enough: it goes before the others by its class.
      if (rest.some((one) => !isUntraceable(one))) continue;
      const backups = clocksByName(rest);
      if (!isNonEmpty(backups)) continue;
      const [first, ...others] = backups;
      yield {
        subject: islandSubject(island),
        parties: [main.name, ...backups.map(({ name }) => name)],
        facts: {
          main: { name: main.name, clockClass: main.quality.clockClass },
          backups: backups.map(({ name, quality, settings }) => ({
            name,
            clockClass: quality.clockClass,
            isStatedUntraceable: settings.traceable === false,
          })),
        },
        at: noted(clockMark(first, first.settings.traceable === false ? 'traceable' : 'clockClass'), 'without'),
        others: [
          ...others.map((one) => noted(clockMark(one, 'clockClass'), 'without')),
          noted(clockMark(main, 'clockClass'), 'with'),
        ],
        touch: clockTouch(first),
      };
    }
  },
  words,
});
