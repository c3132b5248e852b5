import { clause, clauseFromMemory, commonPractice, defineRule, mark, noted, withRig } from '../../../src/doors/rule.js';
import { createEditList, likely, writtenAt, type EditValue } from '../../../src/doors/cures.js';
import {
  advantageOf,
  clockMark,
  clockTouch,
  firstPlaceFor,
  islandSubject,
  overruledLeaders,
  settledIslands,
} from '../../../src/doors/timing.js';
import { words, type Facts, type Note } from './words.js';

export default defineRule<Facts, Note>({
  id: 'timing/agreed-leader-loses',
  summary: 'Joined rigs have agreed whose clock leads, and another one does',
  severity: 'error',
  sources: [
    clauseFromMemory('IEEE 1588-2008', '9.3.3'),
    clause('IEEE 1588-2008', '9.3.4'),
    commonPractice('who leads is agreed before rigs are joined'),
  ],
  needs: ['clocks', 'grandmasters'],
  brief: 'agreed leader loses',
  harm: 'later',
  *check({ model: { timing } }) {
    for (const island of settledIslands(timing)) {
      for (const { list, agreed, leader, followers, why } of overruledLeaders(island)) {
        const advantage = advantageOf(leader, agreed);
        const keyOf = ({ settings }: typeof leader) => (advantage.by in settings ? advantage.by : undefined);
        const both = { leader: leader.owner, agreed: agreed.owner, domain: leader.domain, followers };
        yield {
          subject: islandSubject(island),
          parties: [withRig(leader), withRig(agreed)],
          cure: () => {
            const at = list.grandmasters.indexOf(leader.owner);
            const written = writtenAt(list, 'grandmasters');
            const edits = createEditList();
            const all: readonly EditValue[] = Array.isArray(written) ? (written as readonly EditValue[]) : [];
            const own = all[at];
            if (own !== undefined && all.length === list.grandmasters.length)
              edits.set(list, 'grandmasters', [own, ...all.filter((_, index) => index !== at)]);
            return likely(edits, 'who is to lead');
          },
          facts:
            why === 'outranked' ? { ...both, why, advantage, remedy: firstPlaceFor(agreed, island) } : { ...both, why },
          at: noted(clockMark(leader, why === 'outranked' ? keyOf(leader) : undefined), 'leads'),
          others: [
            noted(clockMark(agreed, why === 'follows only' ? 'slaveOnly' : keyOf(agreed)), 'agreed'),
            noted(mark(list, `domain ${leader.domain}`, 'grandmasters'), 'list'),
          ],
          touch: clockTouch(leader),
        };
      }
    }
  },
  words,
});
