import {
  agreedLists,
  byLabel,
  clause,
  clockCount,
  clockMark,
  clockTouch,
  clocksByName,
  commonPractice,
  compareQualities,
  defineRule,
  islandSubject,
  listNames,
  mark,
  mayLead,
  outrankedBy,
  settledIslands,
  stepWords,
  withRig,
  type Clock,
  type WordedDraft,
  type Island,
  type PtpDomain,
} from '../../../src/lint/rule.js';

export default defineRule({
  id: 'timing/agreed-leader-loses',
  summary: 'Joined rigs have agreed whose clock leads, and another one does',
  severity: 'error',
  sources: [
    clause('IEEE 1588-2008', '9.3.3'),
    clause('IEEE 1588-2008', '9.3.4'),
    commonPractice('who leads is agreed before rigs are joined'),
  ],
  needs: ['clocks', 'grandmasters'],
  *check({ model: { timing } }) {
    for (const island of settledIslands(timing)) {
      const told = new Set<Clock>();
      for (const list of byLabel(agreedLists(island), ({ grandmasters }) => grandmasters.map(nameOf).join('\n'))) {
        const listed = listedOn(island, list);
        const [agreed] = listed;
        if (agreed === undefined || told.has(agreed) || new Set(listed.map(({ rig }) => rig)).size < 2) continue;
        told.add(agreed);
        const finding = overruled(agreed, list, island);
        if (finding !== undefined) yield finding;
      }
    }
  },
});

/** Clocks of a list that stand on an island, in its order. */
function listedOn({ clocks }: Island, { grandmasters }: PtpDomain): readonly Clock[] {
  const byOwner = new Map<object, Clock>(clocks.map((clock) => [clock.owner, clock]));
  return grandmasters.flatMap((owner) => byOwner.get(owner) ?? []);
}

function overruled(agreed: Clock, list: PtpDomain, island: Island): WordedDraft | undefined {
  const [leader] = island.leaders.filter(({ followers }) => followers > 0);
  // One that is not meant to lead, or leads without a reference, is `timing/wrong-grandmaster-wins`.
  if (leader === undefined || leader.clock === agreed || !leader.clock.meantToLead) return undefined;
  const { clock, followers } = leader;
  if (outrankedBy(clock, island).includes(agreed)) return undefined;
  const { order, step } = compareQualities(clock.quality, agreed.quality);
  const able = mayLead(agreed);
  // A tie is `timing/equal-priorities`; what the plan leaves open decides nothing.
  if (able && order < 0 && (step === 'identity' || (step !== 'priority1' && isOpen(clock, agreed)))) return undefined;
  const why = !able
    ? `${withRig(agreed)} only follows`
    : order < 0
      ? `${stepWords(step, clock, agreed)} of ${withRig(agreed)}`
      : `the Announces of ${withRig(agreed)} do not reach them`;
  return {
    subject: islandSubject(island),
    parties: [withRig(clock), withRig(agreed)],
    what: `${withRig(clock)} leads ${clockCount(followers)} of domain ${clock.domain}, and ${withRig(agreed)} is first in the list the rigs agreed on: ${why}`,
    at: clockMark(clock, 'leads', order < 0 && able && step in clock.settings ? step : undefined),
    others: [
      clockMark(agreed, 'is to lead', !able ? 'slaveOnly' : step in agreed.settings ? step : undefined),
      mark(list, 'the list', 'grandmasters'),
    ],
    onAir:
      'the wrong rig locks anew when the rigs are joined: pictures and sound of it step or break up, and all of it happens again once somebody puts the clocks right',
    fix: fixOf(clock, agreed, able && order < 0, island),
    touch: clockTouch(clock),
  };
}

function fixOf(clock: Clock, agreed: Clock, byValues: boolean, { clocks }: Island): string {
  const otherwise = `; or write ${withRig(clock)} first in the list, if it is the one`;
  if (!byValues) return `have ${withRig(agreed)} heard by all and let it lead${otherwise}`;
  const before = clocks.filter(
    (one) => one.meantToLead && mayLead(one) && compareQualities(one.quality, agreed.quality).order < 0,
  );
  const lowest = Math.min(...before.map(({ quality }) => quality.priority1));
  const { priority1 } = agreed.quality;
  return priority1 >= HIGHEST_SAFE_PRIORITY1 && lowest > 0
    ? `give ${withRig(agreed)} a priority1 below ${lowest}, which is the lowest of the others${otherwise}`
    : `give ${listNames(clocksByName(before).map(withRig))} a priority1 above ${priority1}, that of ${withRig(agreed)}${otherwise}`;
}

/** A clock above it comes after every clock nobody set up, which has 128 (IEEE 1588-2008 Annex J.3.2). */
const HIGHEST_SAFE_PRIORITY1 = 127;

function isOpen(a: Clock, b: Clock): boolean {
  return OPEN.some((fact) => a.assumed.has(fact) || b.assumed.has(fact));
}

const OPEN = ['clockClass', 'clockAccuracy', 'offsetScaledLogVariance'] as const;

function nameOf({ name, rig }: PtpDomain['grandmasters'][number]): string {
  return `${rig.name} ${name}`;
}
