import {
  clause,
  clockCount,
  clockMark,
  clockSubject,
  clockTouch,
  clocksByName,
  commonPractice,
  compareQualities,
  defineRule,
  intendedLeaders,
  isEndDevice,
  listNames,
  outrankedBy,
  settledIslands,
  stepWords,
  type Clock,
  type WordedDraft,
  type Island,
  type Leader,
  type Step,
} from '../../../src/lint/rule.js';

export default defineRule({
  id: 'timing/wrong-grandmaster-wins',
  summary: 'A clock that is not meant to lead wins the election',
  severity: 'error',
  sources: [
    clause('IEEE 1588-2008', '9.3.3'),
    clause('IEEE 1588-2008', '9.3.4'),
    commonPractice('cameras and stage boxes only follow'),
  ],
  needs: ['clocks', 'grandmasters'],
  *check({ model }) {
    for (const island of settledIslands(model.timing)) {
      const [intended] = intendedLeaders(island);
      if (intended === undefined) continue;
      for (const leader of island.leaders) {
        const finding = leader.clock.meantToLead
          ? outrankedBetter(leader, island)
          : unintended(leader, intended, island);
        if (finding !== undefined) yield finding;
      }
    }
  },
});

function unintended(leader: Leader, intended: Clock, island: Island): WordedDraft | undefined {
  const { clock, followers } = leader;
  if (followers === 0) return undefined;
  const { order, step } = compareQualities(clock.quality, intended.quality);
  if (!isKnown(step, intended)) return undefined;
  const split = island.leaders.filter((one) => one.followers > 0).length > 1;
  const why =
    order < 0
      ? `${stepWords(step, clock, intended)} of ${intended.name}`
      : `${clock.quality.clockClass <= 127 ? `with clock class ${clock.quality.clockClass} it never follows` : `the Announces of ${intended.name} do not reach them`}, though ${intended.name} is better`;
  return {
    subject: clockSubject(clock),
    parties: [clock.name, intended.name],
    severity: isEndDevice(clock) || split ? 'error' : 'warning',
    what: `${clock.name} leads ${clockCount(followers)} of domain ${clock.domain} instead of ${intended.name}: ${why}`,
    at: clockMark(clock, 'not meant to lead', keyOf(step, order, clock)),
    others: [clockMark(intended, 'meant to lead', keyOf(step, order, intended))],
    onAir: split
      ? `there are two times in one domain: sources locked to ${clock.name} drift against the rest, with repeated frames and clicks where they meet`
      : `all that is locked follows ${clock.name} and not ${intended.name}: time of day and timecode are its own, and when it is switched off every picture and sound steps`,
    fix: isEndDevice(clock)
      ? `set slaveOnly true on ${clock.name}, and give ${intended.name} the lowest priority1`
      : `give ${clock.name} clock class 248 and a priority1 above ${Math.max(intended.quality.priority1, 1)}, that of ${intended.name}; or, if it is meant to lead, name it among the grandmasters`,
    touch: clockTouch(clock),
  };
}

/** A grandmaster that leads on its priority1 alone, while one with a reference stands by. */
function outrankedBetter({ clock, followers }: Leader, island: Island): WordedDraft | undefined {
  if (followers === 0) return undefined;
  const outranked = clocksByName(outrankedBy(clock, island));
  const [first] = outranked;
  if (first === undefined) return undefined;
  const names = outranked.map(({ name }) => name);
  return {
    subject: clockSubject(clock),
    parties: [clock.name, ...names],
    what: `${clock.name} (clock class ${clock.quality.clockClass}) leads ${clockCount(followers)} of domain ${clock.domain} although ${listNames(names)} ${names.length === 1 ? 'has' : 'have'} a reference (clock class ${first.quality.clockClass}): ${stepWords('priority1', clock, first)}, and priority1 is asked before the class`,
    at: clockMark(clock, 'leads without a reference', 'priority1'),
    others: outranked.map((one) => clockMark(one, 'has a reference and does not lead', 'priority1')),
    onAir: `every picture and sound of what is joined here keeps the time of ${clock.name}: time of day drifts, and everything steps at once when the rigs are joined and again when they part`,
    fix: `give them one priority1 (${Math.min(clock.quality.priority1, ...outranked.map((one) => one.quality.priority1))}), so that the clock class decides, and order equals by priority2`,
    touch: clockTouch(clock),
  };
}

/** What the reference of a grandmaster makes of its class is no default: unstated, it decides nothing here. */
function isKnown(step: Step, intended: Clock): boolean {
  return step === 'priority1' || !intended.assumed.has('clockClass');
}

function keyOf(step: Step, order: number, { quality, settings }: Clock): string | undefined {
  if (order > 0) return quality.clockClass <= 127 ? 'clockClass' : undefined;
  const key = step === 'identity' ? 'clockIdentity' : step;
  return key in settings ? key : undefined;
}
