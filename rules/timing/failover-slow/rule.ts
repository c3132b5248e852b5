import {
  clause,
  clockMark,
  clockTouch,
  defineRule,
  intendedLeaders,
  islandSubject,
  lossOfClocks,
  outOfProfile,
  settledIslands,
  spanWords,
  type Clock,
} from '../../../src/lint/rule.js';

export default defineRule({
  id: 'timing/failover-slow',
  summary: 'The backup grandmaster takes over slowly',
  severity: 'warning',
  sources: [clause('IEEE 1588-2008', '9.2.6.11'), clause('SMPTE ST 2059-2', '6.7.2')],
  needs: ['clocks', 'grandmasters'],
  thresholds: {
    seconds: {
      default: 10,
      what: 'seconds from the last Announce of a lost grandmaster until its followers have accepted the next',
    },
  },
  *check({ model: { timing }, threshold }) {
    const most = threshold('seconds');
    for (const island of settledIslands(timing)) {
      const [main, backup] = intendedLeaders(island);
      if (main === undefined || backup === undefined || timing.clockRoleOf(main) !== 'leads') continue;
      const [next] = timing
        .without(lossOfClocks([main]))
        .handovers.filter(({ to }) => to.meantToLead && !to.assumed.has('logAnnounceInterval'));
      if (next === undefined || next.times.followers.toS <= most || !isInProfile(next.to)) continue;
      const { to, times } = next;
      yield {
        subject: islandSubject(island),
        parties: [main.name, to.name],
        what: `when ${main.name} is lost, ${to.name} takes over ${spanWords(times.standby)} and its followers accept it ${spanWords(times.followers)}: announce interval ${2 ** to.logAnnounceInterval} s, timeout ${to.announceReceiptTimeout}`,
        at: clockMark(to, 'takes over', 'logAnnounceInterval'),
        others: [clockMark(main, 'lost')],
        onAir: `until then each clock runs on by itself and drifts, and pictures and sound step when they lock again; the longer the gap, the larger the step`,
        fix: `set logAnnounceInterval 0 and announceReceiptTimeout 3 in the whole domain: followers then change over in 4 to 5 s`,
        touch: clockTouch(to),
      };
    }
  },
});

function isInProfile({ profile, logAnnounceInterval, announceReceiptTimeout }: Clock): boolean {
  return profile === undefined || outOfProfile(profile, { logAnnounceInterval, announceReceiptTimeout }).length === 0;
}
