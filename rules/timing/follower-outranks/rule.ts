import { clauseFromMemory, defineRule, isNonEmpty, noted } from '../../../src/doors/rule.js';
import { createEditList, certainly, setClocks } from '../../../src/doors/cures.js';
import {
  clockMark,
  clockTouch,
  clocksByName,
  intendedLeaders,
  islandSubject,
  settledIslands,
  type Clock,
} from '../../../src/doors/timing.js';
import { words, type Claim, type Facts, type Note } from './words.js';

export default defineRule<Facts, Note>({
  id: 'timing/follower-outranks',
  summary: 'A clock that only follows claims to be better than its grandmaster',
  severity: 'error',
  sources: [clauseFromMemory('IEEE 1588-2008', '9.2.5'), clauseFromMemory('IEEE 1588-2008', '9.3.3')],
  needs: ['clocks'],
  brief: 'follower outranks its grandmaster',
  harm: 'spoils',
  *check({ model }) {
    const { timing } = model;
    for (const island of settledIslands(timing)) {
      const clocks = clocksByName(island.clocks.filter((one) => timing.clockRoleOf(one) === 'outranks'));
      if (!isNonEmpty(clocks)) continue;
      const [first, ...rest] = clocks;
      const [leader = island.leaders[0]?.clock] = intendedLeaders(island);
      yield {
        subject: islandSubject(island),
        parties: clocks.map(({ name }) => name),
        cure: () => {
          const edits = createEditList();
          setClocks(model, edits, clocks, { priority1: 255 });
          return certainly(edits);
        },
        facts: {
          domain: first.domain,
          clocks: clocks.map(claimOf),
          leader: leader === undefined ? undefined : claimOf(leader),
        },
        at: noted(clockMark(first, 'priority1'), 'outranks'),
        others: [
          ...rest.map((one) => clockMark(one, 'priority1')),
          ...(leader === undefined ? [] : [noted(clockMark(leader, 'priority1'), 'outranked')]),
        ],
        touch: clockTouch(first),
      };
    }
  },
  words,
});

function claimOf({ name, quality }: Clock): Claim {
  return { name, priority1: quality.priority1 };
}
