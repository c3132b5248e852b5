import {
  byLabel,
  clause,
  clockCount,
  clockMark,
  clockTouch,
  commonPractice,
  compareQualities,
  defineRule,
  groupBy,
  intendedLeaders,
  isAgreed,
  islandSubject,
  listNames,
  mark,
  settledIslands,
  stepWords,
  withRig,
  type Clock,
  type Entity,
  type Island,
  type Plan,
  type Rig,
  type Timing,
} from '../../../src/lint/rule.js';

export default defineRule({
  id: 'timing/leader-not-agreed',
  summary: 'Rigs are joined, and nobody says whose clock leads',
  severity: 'warning',
  sources: [clause('IEEE 1588-2008', '9.3.4'), commonPractice('who leads is agreed before rigs are joined')],
  needs: ['clocks', 'grandmasters'],
  *check({ plan, model: { timing } }) {
    if (plan.rigs.length < 2) return;
    for (const island of settledIslands(timing)) {
      const meant = intendedLeaders(island);
      const rigs = new Set(meant.map(({ rig }) => rig));
      if (rigs.size < 2 || isAgreed(island, rigs)) continue;
      const winner = winnerOf(island);
      const rival = meant.find(({ rig }) => rig !== winner?.rig);
      if (winner === undefined || rival === undefined) continue;
      const stepping = steppingIn(island, rigs, timing);
      const tie = tieOf(plan, rigs);
      const names = listNames(rigNames(rigs));
      const leaders = byLabel(meant, withRig);
      yield {
        subject: islandSubject(island),
        parties: leaders.map(withRig),
        what: `clocks of ${names} hear each other in domain ${island.group.domain}, and no list says who leads: ${whoWins(winner, rival)}${stepping.length === 0 ? '' : `; ${listNames(stepping.map(([rig, count]) => `${clockCount(count)} of ${rig}`))} ${stepping.length === 1 && stepping[0]?.[1] === 1 ? 'steps' : 'step'}`}`,
        at:
          tie === undefined
            ? clockMark(rival, `meant to lead in ${rival.rig.name}`)
            : mark(tie, 'the rigs are joined here: agree in this file'),
        others: leaders
          .filter((clock) => tie !== undefined || clock !== rival)
          .map((clock) => clockMark(clock, `meant to lead in ${clock.rig.name}`, 'priority1')),
        onAir: `everything locked ${stepping.length === 0 ? 'in the rig that loses' : `in ${listNames(stepping.map(([rig]) => rig))}`} locks anew at the moment the rigs are joined, and again when they part: pictures and sound of it step or break up, and nobody has planned for it`,
        fix: `agree who leads, write all in one list where the rigs are joined, the one that leads first: \`timing: {domains: [{number: ${island.group.domain}, grandmasters: [${inOrder(
          meant,
          winner,
        )
          .map(qualified)
          .join(', ')}]}]}\`, and give them priority1 in that order`,
        touch: tie === undefined ? clockTouch(rival) : { kind: 'plan', name: tie.origin.document.name },
      };
    }
  },
});

/** The clock of those meant to lead that most follow; where another leads, `timing/wrong-grandmaster-wins` says so. */
function winnerOf(island: Island): Clock | undefined {
  const [first] = island.leaders.filter(({ followers }) => followers > 0);
  return first?.clock.meantToLead === true ? first.clock : undefined;
}

function whoWins(winner: Clock, rival: Clock): string {
  const { order, step } = compareQualities(winner.quality, rival.quality);
  const why = `${stepWords(step, winner, rival)} of ${withRig(rival)}`;
  if (order > 0) return `most follow ${withRig(winner)}, though ${withRig(rival)} is better`;
  if (step === 'identity' && (winner.assumed.has('identity') || rival.assumed.has('identity')))
    return `between ${withRig(winner)} and ${withRig(rival)} ${stepWords(step, winner, rival)}`;
  const isOpen = OPEN.some((fact) => winner.assumed.has(fact) || rival.assumed.has(fact));
  return `${withRig(winner)} wins${isOpen && step !== 'priority1' ? ', as far as the plan states it' : ''}, for ${why}`;
}

const OPEN = ['clockClass', 'clockAccuracy', 'offsetScaledLogVariance'] as const;

/** How many clocks of each rig keep the time of another rig's, which they would not if it were alone. */
function steppingIn(
  { clocks }: Island,
  rigs: ReadonlySet<Rig>,
  timing: Timing,
): readonly (readonly [string, number])[] {
  const moved = clocks.filter((clock) => {
    const outcome = timing.outcomeOf(clock);
    return rigs.has(clock.rig) && outcome?.parent !== undefined && outcome.grandmaster.rig !== clock.rig;
  });
  const counts = [...groupBy(moved, ({ rig }) => rig)].map(([rig, own]) => [rig.name, own.length] as const);
  return byLabel(counts, ([name]) => name);
}

function rigNames(rigs: ReadonlySet<Rig>): readonly string[] {
  return byLabel(
    [...rigs].map(({ name }) => name),
    (name) => name,
  );
}

/** The join that ties two of the rigs, else the link. */
function tieOf(plan: Plan, rigs: ReadonlySet<Rig>): Entity | undefined {
  const several = (own: readonly Rig[]): boolean => new Set(own.filter((rig) => rigs.has(rig))).size > 1;
  return (
    plan.joins.find(({ vlans, networks }) => several([...vlans, ...networks].map(({ rig }) => rig))) ??
    plan.links.find(({ ends }) => several(ends.flatMap((end) => end.switch?.rig ?? [])))
  );
}

/** The winner's rig first, each by its own claims. */
function inOrder(meant: readonly Clock[], winner: Clock): readonly Clock[] {
  return [...meant.filter(({ rig }) => rig === winner.rig), ...meant.filter(({ rig }) => rig !== winner.rig)];
}

function qualified({ name, rig }: Clock): string {
  return rig.name === '' ? name : `${rig.name}:${name}`;
}
