import {
  clause,
  clockCount,
  clockMark,
  clockTouch,
  commonPractice,
  defineRule,
  intendedLeaders,
  isPlaced,
  isUntraceable,
  islandSubject,
  listNames,
  lossOfClocks,
  settledIslands,
  type Clock,
  type Island,
  type Timing,
} from '../../../src/lint/rule.js';

export default defineRule({
  id: 'timing/single-grandmaster',
  summary: 'A domain has a single grandmaster',
  severity: 'warning',
  sources: [clause('IEEE 1588-2008', '9.3.3'), commonPractice('two grandmasters a domain')],
  needs: ['clocks', 'grandmasters'],
  *check({ model: { timing } }) {
    for (const island of settledIslands(timing)) {
      const [only, second] = intendedLeaders(island);
      if (only === undefined || second !== undefined) continue;
      const led = island.leaders.find(({ clock }) => clock === only)?.followers ?? 0;
      if (led === 0 || island.leaders.some(({ clock, followers }) => followers > 0 && clock !== only)) continue;
      const away = elsewhere(only, island, timing);
      // It may stand here: its VLAN is not stated.
      if (away.some((one) => !isPlaced(one))) continue;
      yield {
        subject: islandSubject(island),
        parties: [only.name],
        what: `${only.name} is the only grandmaster that the ${clockCount(led)} of domain ${only.domain} it leads can hear${away.length === 0 ? '' : `; ${listNames(away.map(({ name }) => name))} ${away.length === 1 ? 'is' : 'are'} out of their reach`}`,
        at: clockMark(only, 'no second one'),
        others: away.map((one) => clockMark(one, 'not in reach')),
        onAir: afterLoss(only, timing),
        fix:
          away.length === 0
            ? `add a second grandmaster to domain ${only.domain}: the same priority1 (${only.quality.priority1}), a priority2 other than ${only.quality.priority2}, on other power and another antenna`
            : `bring ${listNames(away.map(({ name }) => name))} to the networks that ${only.name} serves`,
        touch: clockTouch(only),
      };
    }
  },
});

/** Other intended grandmasters of the domain and rig. */
function elsewhere(only: Clock, { group, clocks }: Island, { clocks: all }: Timing): readonly Clock[] {
  const here = new Set(clocks);
  return all
    .filter((one) => one.meantToLead && !one.slaveOnly && one.rig === only.rig)
    .filter((one) => one.domain === group.domain && one.transport === group.transport && !here.has(one))
    .sort((a, b) => (a.name < b.name ? -1 : 1));
}

function afterLoss(only: Clock, timing: Timing): string {
  const [next] = timing.without(lossOfClocks([only])).handovers;
  if (next === undefined)
    return `when ${only.name} fails, each clock runs on by itself: pictures and sound drift apart within minutes to hours`;
  const held = isUntraceable(next.to) ? 'free-running, ' : '';
  return `when ${only.name} fails, ${next.to.name} leads, ${held}and nobody is told: the time of day drifts, and everything steps when ${only.name} is back`;
}
