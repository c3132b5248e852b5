import { byLabel, clause, commonPractice, defineRule, mark, noted, withRig } from '../../../src/doors/rule.js';
import {
  advantageOf,
  clockMark,
  clockTouch,
  compareQualities,
  isOpenBetween,
  islandSubject,
  settledIslands,
  tieBetween,
  withoutAgreement,
  type Clock,
} from '../../../src/doors/timing.js';
import { words, type Facts, type Note, type Victory } from './words.js';

export default defineRule<Facts, Note>({
  id: 'timing/leader-not-agreed',
  summary: 'Rigs are joined, and nobody says whose clock leads',
  severity: 'warning',
  people: 'who leads where the rigs meet',
  sources: [clause('IEEE 1588-2008', '9.3.4'), commonPractice('who leads is agreed before rigs are joined')],
  needs: ['clocks', 'grandmasters'],
  brief: 'leader not agreed',
  harm: 'later',
  *check({ plan, model: { timing } }) {
    if (plan.rigs.length < 2) return;
    for (const island of settledIslands(timing)) {
      const found = withoutAgreement(island, timing);
      if (found === undefined) continue;
      const { rigs, meant, winner, rival, moved } = found;
      const tie = tieBetween(plan, rigs);
      const leaders = byLabel(meant, withRig);
      yield {
        subject: islandSubject(island),
        parties: leaders.map(withRig),
        facts: {
          domain: island.group.domain,
          rigs: byLabel([...rigs], ({ name }) => name).map(({ name }) => name),
          winner: winner.owner,
          rival: rival.owner,
          victory: victoryOf(winner, rival),
          moved: moved.map(([rig, clocks]) => ({ rig: rig.name, clocks: clocks.length })),
          list: meant.map(({ owner }) => owner),
        },
        at:
          tie === undefined
            ? noted(clockMark(rival), { meantFor: rival.rig.name })
            : noted(mark(tie, tie.origin.document.name), 'tie'),
        others: leaders
          .filter((clock) => tie !== undefined || clock !== rival)
          .map((clock) => noted(clockMark(clock, 'priority1'), { meantFor: clock.rig.name })),
        touch: tie === undefined ? clockTouch(rival) : { kind: 'plan', name: tie.origin.document.name },
      };
    }
  },
  words,
});

function victoryOf(winner: Clock, rival: Clock): Victory {
  const { order, step } = compareQualities(winner.quality, rival.quality);
  if (order > 0) return { by: 'reach' };
  return { ...advantageOf(winner, rival), isOpen: step !== 'priority1' && isOpenBetween(winner, rival) };
}
