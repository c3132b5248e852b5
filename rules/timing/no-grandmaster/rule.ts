import {
  clause,
  clockCount,
  clockMark,
  clockTouch,
  clocksByName,
  defineRule,
  isPlaced,
  islandSubject,
  listNames,
  settledIslands,
  splitByTransport,
  type Clock,
  type Island,
  type Model,
  type TimingGroup,
} from '../../../src/lint/rule.js';

export default defineRule({
  id: 'timing/no-grandmaster',
  summary: 'Clocks follow, and nobody can lead them',
  severity: 'error',
  sources: [clause('IEEE 1588-2008', '9.2.2'), clause('IEEE 1588-2008', '9.3.3')],
  needs: ['clocks'],
  *check({ model }) {
    for (const { group, clocks } of leaderless(model)) {
      const names = clocksByName(clocks).map(({ name }) => name);
      const [meant] = clocksByName(clocks.filter(({ meantToLead }) => meantToLead));
      const [first] = clocksByName(clocks);
      const place = meant ?? first;
      if (place === undefined) continue;
      const elsewhere = group.election.outcomes.size > clocks.length;
      yield {
        subject: islandSubject({ group, clocks }),
        parties: names,
        what: `domain ${group.domain} has ${clockCount(clocks.length)} that only follow${clocks.length === 1 ? 's' : ''} (${listNames(names)}) and nobody to lead${elsewhere ? ' in reach' : ''}`,
        at: clockMark(
          place,
          meant === undefined ? 'only follows, and hears no leader' : 'meant to lead, yet it only follows',
          'slaveOnly',
        ),
        others: clocks.filter((one) => one !== place).map((one) => clockMark(one, undefined, 'slaveOnly')),
        onAir:
          'they listen for ever and run each on its own crystal: pictures and sound drift apart from switch-on, with repeated frames and clicks',
        fix: fixWords(meant, elsewhere),
        touch: clockTouch(place),
      };
    }
  },
});

interface Leaderless {
  readonly group: Pick<TimingGroup, 'domain' | 'transport' | 'planned' | 'election'>;
  readonly clocks: readonly Clock[];
}

/** One a domain when it has no leader at all; else one an island that no leader reaches. */
function leaderless({ timing }: Model): readonly Leaderless[] {
  const perIsland = new Set(settledIslands(timing));
  const cut = new Set(splitByTransport(timing).flatMap((split) => split.cut));
  return timing.groups.flatMap((group): readonly Leaderless[] => {
    const all = [...group.election.outcomes.keys()];
    if (all.every(({ slaveOnly }) => slaveOnly)) {
      const heard = all.filter((one) => one.ports.length > 0 && !cut.has(one));
      return heard.length === 0 ? [] : [{ group, clocks: heard }];
    }
    // A leader whose place is not stated may stand on any island.
    if (all.some((one) => !one.slaveOnly && !isPlaced(one))) return [];
    return group.islands
      .filter((island) => perIsland.has(island) && isLeaderless(island) && !island.clocks.every((one) => cut.has(one)))
      .map(({ clocks }) => ({ group, clocks }));
  });
}

function isLeaderless({ clocks }: Island): boolean {
  return clocks.every((one) => one.slaveOnly && isPlaced(one));
}

function fixWords(meant: Clock | undefined, elsewhere: boolean): string {
  if (meant !== undefined)
    return `let ${meant.name} lead: slaveOnly false, and the clock class of what it is locked to (6 with a satellite or other primary reference)`;
  return elsewhere
    ? 'bring the network of a grandmaster to them, or put a grandmaster there'
    : 'add a grandmaster to this domain, or set their domain to that of the grandmaster';
}
