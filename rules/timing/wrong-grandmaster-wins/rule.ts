import { clause, clauseFromMemory, commonPractice, defineRule, noted, type Model } from '../../../src/doors/rule.js';
import { createEditList, likely, peopleDecide, type Cure, setClocks } from '../../../src/doors/cures.js';
import {
  advantageOf,
  clockMark,
  clockSubject,
  clockTouch,
  isEndDevice,
  keyOfVictory,
  settledIslands,
  wrongLeaders,
  mayLead,
  type Clock,
  type Island,
} from '../../../src/doors/timing.js';
import { words, type Facts, type Note } from './words.js';

export default defineRule<Facts, Note>({
  id: 'timing/wrong-grandmaster-wins',
  summary: 'A clock that is not meant to lead wins the election',
  severity: 'error',
  sources: [
    clauseFromMemory('IEEE 1588-2008', '9.3.3'),
    clause('IEEE 1588-2008', '9.3.4'),
    commonPractice('cameras and stage boxes only follow'),
  ],
  needs: ['clocks', 'grandmasters'],
  brief: 'another clock leads',
  harm: 'spoils',
  *check({ model }) {
    const all = settledIslands(model.timing).flatMap((island) =>
      wrongLeaders(island, model.timing).map((found) => ({ island, found })),
    );
    for (const { island, found } of all) {
      const { leader, followers } = found;
      const led = { leader: leader.name, domain: leader.domain, followers };
      const about = { subject: clockSubject(leader), touch: clockTouch(leader) };
      if (found.form === 'unintended') {
        const { intended, victory, isSplit } = found;
        const { priority1 } = intended.quality;
        yield {
          ...about,
          parties: [leader.name, intended.name],
          severity: isEndDevice(leader) || isSplit ? 'error' : 'warning',
          // It may lose, too: nobody knows which identity is lower.
          confidence: victory.by === 'unstated identity' ? 'assumed' : 'certain',
          cure: () =>
            victory.by === 'reach'
              ? peopleDecide('how its followers are to reach the intended grandmaster')
              : cure(model, island, leader, intended),
          facts: {
            form: 'unintended',
            ...led,
            intended: { name: intended.name, priority1 },
            victory,
            isSplit,
            isEndDevice: isEndDevice(leader),
          },
          at: noted(clockMark(leader, keyOfVictory(victory, leader)), 'unintended'),
          others: [noted(clockMark(intended, keyOfVictory(victory, intended)), 'intended')],
        };
      } else {
        const { better } = found;
        const [first] = better;
        const names = better.map(({ name }) => name);
        yield {
          ...about,
          parties: [leader.name, ...names],
          cure: () => {
            const edits = createEditList();
            if (better.length < 2) return peopleDecide('whether the one without a reference gets one');
            const priority1 = Math.min(...[leader, ...better].map(({ quality }) => quality.priority1));
            setClocks(model, edits, [leader, ...better], { priority1 });
            return likely(edits);
          },
          facts: {
            form: 'no reference',
            ...led,
            clockClass: leader.quality.clockClass,
            better: names,
            betterClass: first.quality.clockClass,
            advantage: advantageOf(leader, first, 'priority1'),
            lowestPriority1: Math.min(...[leader, ...better].map(({ quality }) => quality.priority1)),
          },
          at: noted(clockMark(leader, 'priority1'), 'without reference'),
          others: better.map((one) => noted(clockMark(one, 'priority1'), 'with reference')),
        };
      }
    }
  },
  words,
});

/** End devices only follow; the intended one goes before all others that may lead, with those meant to lead beside it. */
function cure(model: Model, { clocks }: Island, leader: Clock, intended: Clock): Cure {
  const edits = createEditList();
  const followers = clocks.filter((one) => isEndDevice(one) && mayLead(one));
  if (followers.length > 0 && isEndDevice(leader)) setClocks(model, edits, followers, { slaveOnly: true });
  // Of one priority1 before, and so after: else one that loses its reference keeps the lead.
  const peers = clocks.filter(
    (one) => one.meantToLead && mayLead(one) && one.quality.priority1 === intended.quality.priority1,
  );
  // Those that only follow as well: with a better claim they would follow nobody.
  const others = clocks.filter((one) => one !== leader && mayLead(one) && !peers.includes(one));
  // Class 128 and below never follows (IEEE 1588-2008 §9.2.2); a boundary clock has 248.
  const stubborn = leader.quality.clockClass < 128 && !isEndDevice(leader);
  if (stubborn)
    setClocks(model, edits, [leader], {
      clockClass: 248,
      priority1: Math.max(leader.quality.priority1, intended.quality.priority1 + 1),
    });
  const lowest = Math.min(...[...others, ...(stubborn ? [] : [leader])].map(({ quality }) => quality.priority1));
  if (intended.quality.priority1 < lowest) return likely(edits, 'who is to lead');
  if (lowest > 0) {
    setClocks(model, edits, peers, { priority1: Math.min(lowest - 1, 10) });
    return likely(edits);
  }
  return peopleDecide('who is to lead');
}
