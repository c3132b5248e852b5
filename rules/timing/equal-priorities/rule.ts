import {
  agreedLists,
  clause,
  clockMark,
  clockTouch,
  clocksByName,
  commonPractice,
  compareQualities,
  defineRule,
  formatClockIdentity,
  groupBy,
  intendedLeaders,
  isAgreed,
  islandSubject,
  listNames,
  settledIslands,
  type Clock,
  type Island,
} from '../../../src/lint/rule.js';

export default defineRule({
  id: 'timing/equal-priorities',
  summary: 'Between two grandmasters only the clock identity decides',
  severity: 'warning',
  sources: [clause('IEEE 1588-2008', '9.3.4'), commonPractice('priority2 puts equal grandmasters in order')],
  needs: ['clocks', 'grandmasters'],
  *check({ model }) {
    for (const island of settledIslands(model.timing)) {
      const known = intendedLeaders(island).filter(({ assumed }) => !assumed.has('clockClass'));
      for (const tied of groupBy(known, claimOf).values()) {
        if (tied.length < 2 || isOpen(island, tied)) continue;
        const clocks = inAgreedOrder(island, clocksByName(tied));
        const names = clocks.map(({ name }) => name);
        const last = clocks.at(-1);
        if (last === undefined) continue;
        const { priority1, priority2, clockClass } = last.quality;
        yield {
          subject: islandSubject(island),
          parties: names,
          what: `${listNames(names)} tie in domain ${last.domain}: priority1 ${priority1}, clock class ${clockClass}, priority2 ${priority2} and all between are equal${openValues(clocks)}`,
          at: clockMark(last, 'give this one another priority2', 'priority2'),
          others: clocks.filter((one) => one !== last).map((one) => clockMark(one, undefined, 'priority2')),
          onAir: `${winnerWords(clocks)}; a box swapped in a hurry changes which one leads, and every picture and sound steps at that moment`,
          fix: `keep priority1 equal and give each its own priority2: ${clocks.map(({ name }, index) => `${name} ${index + 1}`).join(', ')}`,
          touch: clockTouch(last),
        };
      }
    }
  },
});

/** One of each of several rigs that have not agreed who leads: `timing/leader-not-agreed`. */
function isOpen(island: Island, tied: readonly Clock[]): boolean {
  const rigs = new Set(tied.map(({ rig }) => rig));
  return rigs.size === tied.length && !isAgreed(island, rigs);
}

/** As the first list that names all of them has it. */
function inAgreedOrder(island: Island, clocks: readonly Clock[]): readonly Clock[] {
  const list = agreedLists(island).find(({ grandmasters }) =>
    clocks.every(({ owner }) => grandmasters.includes(owner)),
  );
  if (list === undefined) return clocks;
  const place = ({ owner }: Clock): number => list.grandmasters.indexOf(owner);
  return [...clocks].sort((a, b) => place(a) - place(b));
}

function claimOf({ quality }: Clock): string {
  const { priority1, clockClass, clockAccuracy, offsetScaledLogVariance, priority2 } = quality;
  return [priority1, clockClass, clockAccuracy, offsetScaledLogVariance, priority2].join(' ');
}

function openValues(clocks: readonly Clock[]): string {
  const isOpen = clocks.some(({ assumed }) => assumed.has('clockAccuracy') || assumed.has('offsetScaledLogVariance'));
  return isOpen ? ', as far as the plan states them' : '';
}

function winnerWords(clocks: readonly Clock[]): string {
  if (clocks.some(({ assumed }) => assumed.has('identity')))
    return 'the lowest clock identity decides, that is, whose MAC address happens to be lower';
  const [winner] = [...clocks].sort((a, b) => compareQualities(a.quality, b.quality).order);
  return winner === undefined
    ? ''
    : `${winner.name} leads by its clock identity ${formatClockIdentity(winner.quality.identity)} alone`;
}
