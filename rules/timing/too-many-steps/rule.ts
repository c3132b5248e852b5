import {
  clause,
  clockMark,
  clockTouch,
  clocksByName,
  commonPractice,
  defineRule,
  islandSubject,
  listNames,
  settledIslands,
} from '../../../src/lint/rule.js';

export default defineRule({
  id: 'timing/too-many-steps',
  summary: 'A clock stands too many boundary clocks away from its grandmaster',
  severity: 'warning',
  sources: [
    clause('IEEE 1588-2008', '9.3.2.5'),
    commonPractice('every boundary clock on the way adds its own error, so a media rig keeps the chain short'),
  ],
  needs: ['clocks'],
  thresholds: { steps: { default: 7, what: 'steps a clock may stand from its grandmaster' } },
  *check({ model: { timing }, threshold }) {
    const most = threshold('steps');
    for (const island of settledIslands(timing)) {
      const stepsOf = (clock: (typeof island.clocks)[number]): number => timing.outcomeOf(clock)?.stepsRemoved ?? 0;
      const far = clocksByName(island.clocks.filter((clock) => stepsOf(clock) > most));
      // The chain is too long where it first passes the limit; what hangs behind is the same fault.
      const [first] = clocksByName(far.filter((clock) => stepsOf(clock) === most + 1));
      if (first === undefined) continue;
      const grandmaster = timing.outcomeOf(first)?.grandmaster.name ?? 'its grandmaster';
      const farthest = Math.max(...far.map(stepsOf));
      yield {
        subject: islandSubject(island),
        parties: far.map(({ name }) => name),
        what: `${listNames(far.map(({ name }) => name))} ${far.length === 1 ? 'stands' : 'stand'} up to ${farthest} steps from ${grandmaster}, more than ${most}`,
        at: clockMark(first, `${first.name}: ${stepsOf(first)} steps from ${grandmaster}`),
        others: far.filter((clock) => clock !== first).map((clock) => clockMark(clock)),
        onAir: `nothing at once; time at the far end wanders with every boundary clock on the way, and after a change of grandmaster it settles there last: pictures locked to it slip against the others`,
        fix: `hang ${first.name} nearer to ${grandmaster}, or bring a grandmaster nearer to it`,
        touch: clockTouch(first),
      };
    }
  },
});
