import {
  clause,
  clockCount,
  clockMark,
  clockTouch,
  clocksByName,
  commonPractice,
  defineRule,
  intendedLeaders,
  isEndDevice,
  islandSubject,
  listNames,
  lossOfClocks,
  mayLead,
  settledIslands,
  spanWords,
  type Clock,
  type Handover,
  type Island,
  type Timing,
} from '../../../src/lint/rule.js';

export default defineRule({
  id: 'timing/end-device-could-win',
  summary: 'When the grandmasters are lost an end device takes over',
  severity: 'warning',
  sources: [
    clause('IEEE 1588-2008', '9.2.6.11'),
    clause('IEEE 1588-2008', '9.3.3'),
    commonPractice('cameras and stage boxes only follow'),
  ],
  needs: ['clocks', 'grandmasters'],
  *check({ model: { timing } }) {
    for (const island of settledIslands(timing)) {
      const intended = intendedLeaders(island);
      const able = clocksByName(island.clocks.filter((one) => isEndDevice(one) && mayLead(one)));
      // Where one leads already, `timing/wrong-grandmaster-wins` speaks.
      if (intended.length === 0 || able.length === 0 || leadsAlready(island)) continue;
      const found = takeover(intended, island, timing);
      if (found === undefined) continue;
      const { lost, to, times } = found;
      const names = able.map(({ name }) => name);
      const others = names.filter((name) => name !== to.name);
      const loss = listNames(clocksByName(lost).map(({ name }) => name));
      yield {
        subject: islandSubject(island),
        parties: names,
        severity: lost.length < intended.length ? 'error' : 'warning',
        what: `at loss of ${loss}, ${to.name} becomes grandmaster of domain ${to.domain} ${spanWords(times.standby)}: it is not meant to lead${lost.length < intended.length ? ', and goes before the backup' : ''}${others.length === 0 ? '' : `; ${listNames(others)} could too`}`,
        at: clockMark(to, 'takes over', 'slaveOnly'),
        others: [
          ...able.filter((one) => one !== to).map((one) => clockMark(one, 'could take over', 'slaveOnly')),
          ...lost.map((one) => clockMark(one, 'lost')),
        ],
        onAir: `every picture and sound locked to ${loss} steps when ${to.name} takes over, then runs on its crystal and its time of day; when a grandmaster is back, all of it steps again`,
        fix: `set slaveOnly true on ${names.length === 1 ? to.name : `each of these ${clockCount(names.length).replace('clocks', 'devices')}`}${settles(island) ? ', so that a boundary clock is the last resort' : ''}`,
        touch: clockTouch(to),
      };
    }
  },
});

interface Takeover extends Pick<Handover, 'to' | 'times'> {
  readonly lost: readonly Clock[];
}

/** The leader's loss first, then that of all grandmasters together. */
function takeover(intended: readonly Clock[], island: Island, timing: Timing): Takeover | undefined {
  const leader = intended.filter((one) => timing.clockRoleOf(one) === 'leads');
  const losses = leader.length === 0 || leader.length === intended.length ? [intended] : [leader, intended];
  const here = new Set(island.clocks);
  for (const lost of losses) {
    const { handovers } = timing.without(lossOfClocks(lost));
    const taken = handovers.filter(({ to }) => here.has(to) && isEndDevice(to));
    const [most] = [...taken].sort(
      (a, b) => b.followers.length - a.followers.length || (a.to.name < b.to.name ? -1 : 1),
    );
    if (most !== undefined) return { lost, to: most.to, times: most.times };
  }
  return undefined;
}

function leadsAlready({ leaders }: Island): boolean {
  return leaders.some(({ clock, followers }) => followers > 0 && !clock.meantToLead);
}

function settles({ clocks }: Island): boolean {
  return clocks.some(({ relays }) => relays);
}
