import { clause, defineRule } from '../../../src/doors/rule.js';
import { createEditList, certainly, peopleDecide, setClocks } from '../../../src/doors/cures.js';
import {
  clockMark,
  clockTouch,
  islandSubject,
  oddAnnounceIntervals,
  settledIslands,
  outOfProfile,
} from '../../../src/doors/timing.js';
import { words, type Facts } from './words.js';

export default defineRule<Facts>({
  id: 'timing/intervals-differ',
  summary: 'Clocks of one domain have different announce intervals',
  severity: 'warning',
  sources: [clause('SMPTE ST 2059-2', '6.7.2'), clause('IEEE 1588-2008', '9.2.6.11')],
  needs: ['clocks'],
  brief: 'announce intervals differ',
  harm: 'later',
  *check({ model }) {
    const { timing } = model;
    for (const island of settledIslands(timing)) {
      const found = oddAnnounceIntervals(island, timing);
      if (found === undefined) continue;
      const { odd, usual, hasty } = found;
      const [first, ...rest] = odd;
      yield {
        subject: islandSubject(island),
        parties: odd.map(({ name }) => name),
        severity: hasty.length > 0 ? 'error' : 'warning',
        cure: () => {
          const edits = createEditList();
          const strange = odd.some(
            ({ profile }) => profile !== undefined && outOfProfile(profile, { logAnnounceInterval: usual }).length > 0,
          );
          if (strange) return peopleDecide('which interval is meant: that of most clocks is none of their profile');
          setClocks(model, edits, odd, { logAnnounceInterval: usual });
          return certainly(edits);
        },
        facts: {
          domain: first.domain,
          odd: odd.map(({ name, logAnnounceInterval }) => ({ name, logAnnounceInterval })),
          usual,
          hasty: hasty.map(({ name }) => name),
        },
        at: clockMark(first, 'logAnnounceInterval'),
        others: rest.map((one) => clockMark(one, 'logAnnounceInterval')),
        touch: clockTouch(first),
      };
    }
  },
  words,
});
