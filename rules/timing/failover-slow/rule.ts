import { clause, defineRule, noted } from '../../../src/doors/rule.js';
import { createEditList, likely, peopleDecide, setClocks } from '../../../src/doors/cures.js';
import {
  clockMark,
  clockTouch,
  intendedLeaders,
  isEndDevice,
  islandSubject,
  lossOfClocks,
  outOfProfile,
  settledIslands,
  type Clock,
} from '../../../src/doors/timing.js';
import { FAST, words, type Facts, type Note } from './words.js';

export default defineRule<Facts, Note>({
  id: 'timing/failover-slow',
  summary: 'The backup grandmaster takes over slowly',
  severity: 'warning',
  sources: [clause('IEEE 1588-2008', '9.2.6.11'), clause('SMPTE ST 2059-2', '6.7.2')],
  needs: ['clocks', 'grandmasters'],
  brief: 'backup takes over slowly',
  harm: 'later',
  thresholds: {
    seconds: {
      default: 15,
      what: 'seconds from the last Announce of a lost grandmaster until all its followers have chosen the next, at the latest',
    },
  },
  *check({ plan, model, threshold }) {
    const { timing } = model;
    for (const island of settledIslands(timing)) {
      const [main, backup] = intendedLeaders(island);
      if (main === undefined || backup === undefined || timing.clockRoleOf(main) !== 'leads') continue;
      const most = threshold('seconds', main.rig);
      const [next] = timing
        .without(lossOfClocks([main]))
        .handovers.filter(({ to }) => to.meantToLead && !to.assumed.has('logAnnounceInterval'));
      if (next === undefined || !isInProfile(next.to)) continue;
      const { to, times } = next;
      // What is not known is not slow: `clocks` says that it is not known.
      if (times.followers === undefined || times.followers.toS <= most) continue;
      // An end device that leads in between is a fault of its own, and the reason: `timing/end-device-could-win`.
      if (times.between.some(({ grandmaster }) => isEndDevice(grandmaster))) continue;
      yield {
        subject: islandSubject(island),
        parties: [main.name, to.name],
        cure: () => {
          if (
            to.logAnnounceInterval <= FAST.logAnnounceInterval &&
            to.announceReceiptTimeout <= FAST.announceReceiptTimeout
          )
            return peopleDecide(
              'where both grandmasters can be brought near to each other, or which interval below 0 all clocks take',
            );
          const edits = createEditList();
          for (const domain of plan.ptpDomains)
            if (domain.number === to.domain && domain.rig === to.rig)
              for (const [key, value] of Object.entries(FAST)) edits.set(domain, key, value);
          for (const clock of island.clocks)
            for (const [key, value] of Object.entries(FAST))
              if (edits.says(clock.settings, key) || clock === to || clock === main)
                setClocks(model, edits, [clock], { [key]: value });
          return likely(edits);
        },
        facts: {
          lost: main.name,
          backup: to.name,
          takeover: times.standby,
          accepted: times.followers,
          announceIntervalS: 2 ** to.logAnnounceInterval,
          announceReceiptTimeout: to.announceReceiptTimeout,
        },
        at: noted(clockMark(to, 'logAnnounceInterval'), 'takes over'),
        others: [noted(clockMark(main), 'lost')],
        touch: clockTouch(to),
      };
    }
  },
  words,
});

function isInProfile({ profile, logAnnounceInterval, announceReceiptTimeout }: Clock): boolean {
  return profile === undefined || outOfProfile(profile, { logAnnounceInterval, announceReceiptTimeout }).length === 0;
}
