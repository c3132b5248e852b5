/** Who leads, who follows through what, and what each loss changes, for a person. */
import {
  type ClockLoad,
  type Island,
  type LossResult,
  type Timing,
  type TimingGroup,
  type TimingState,
  untimedNetworks,
} from '../../model/timing/index.js';
import type { Block, OutlineLine, Page, Part, Row } from '../../page/page.js';
import { prose, say, sayAll, sayNames, title } from '../../page/phrase.js';
import { block, headed, outline, row, rowsPart } from '../../page/rows.js';
import { CLOCK_ROLES, lossWords } from '../../words/clocks.js';
import { agree, counted } from '../../words/counts.js';
import { cautionRow } from '../caution.js';
import { problemBlocks } from '../problems.js';
import { lossLines } from './losses.js';
import type { ClocksResult } from '../../answers/clocks.js';
import { treeLines } from './tree.js';
import { effectWords, groupTitle, leaderWords, whyWords } from './words.js';

const LABEL_ROOM = 13;
const MOST_NAMES = 8;
const MOST_LOSSES = 60;

/** What could not be read, each domain as a tree, each loss, what clocks serve. */
export function clocksPage(result: ClocksResult): Page {
  return {
    blocks: [...problemBlocks(result.problems), ...answerBlocks(result), ...block(...rows(cautionRow()))],
  };
}

function answerBlocks({ timing, asked, all }: ClocksResult): readonly Block[] {
  if (timing === undefined) return [];
  const most = all ? Infinity : MOST_NAMES;
  if (asked !== undefined) return asked.flatMap((one) => askedBlocks(one, most));
  if (timing.clocks.length === 0)
    return block(...rows(row('No clocks', prose('no device or switch of the plan states `ptp`'))));
  return [
    ...stateBlocks(timing, most),
    ...untimedBlock(timing),
    lossBlock(timing.failover, all, most),
    ...loadBlocks(timing.loads),
  ];
}

function rows(list: readonly Row[]): readonly Part[] {
  return rowsPart(LABEL_ROOM, list);
}

function askedBlocks(result: LossResult, most: number): readonly Block[] {
  return [
    headed(
      `WITHOUT ${lossWords(result.lost)}`,
      ...rows([...row('Changes', effectWords(result, most)), ...row('Times', prose(TIMES))]),
    ),
    ...stateBlocks(result.state, most),
  ];
}

function stateBlocks(state: TimingState, most: number): readonly Block[] {
  return state.groups.flatMap((group) => {
    const islands = group.islands.filter((island) => island.leaders.length > 0);
    return [
      headed(
        groupTitle(group),
        ...rows([...about(group, state), ...(islands.length === 0 ? row('Leads', prose('nobody')) : [])]),
      ),
      ...islands.flatMap((island) => block(...rows(leadRows(island)), ...outline(treeLines(island, state, most)))),
      ...block(...rows(aside(group, state, most))),
    ];
  });
}

/** Where nobody was asked whom he hears. */
function untimedBlock({ facts }: Timing): readonly Block[] {
  return block(
    ...rows(
      untimedNetworks(facts).flatMap(({ domain, networks }) =>
        row(
          'Assumed',
          say`${sayNames(networks.map(({ name }) => name))}, for management, ${agree(networks.length, 'carries', 'carry')} no PTP of domain ${String(domain)}: its \`networks\` are not stated`,
        ),
      ),
    ),
  );
}

function about({ islands, election, planned }: TimingGroup, state: TimingState): readonly Row[] {
  const clocks = islands.flatMap((island) => island.clocks);
  const [profile] = clocks.flatMap((clock) => clock.profile ?? []);
  const meant = [
    ...new Set([
      ...planned.flatMap((one) => one.grandmasters.map((owner) => owner.name)),
      ...clocks.filter((clock) => clock.meantToLead).map((clock) => clock.name),
    ]),
  ];
  const leads = islands.flatMap((island) => island.leaders).length;
  const following = clocks.filter((clock) => state.clockRoleOf(clock) === 'follows').length;
  const unsettled = `port states still change after ${election.rounds} rounds; this is one moment of clocks that chase each other`;
  return [
    ...row(
      'Clocks',
      prose(`${counted(clocks.length, 'clock')}: ${leads} ${agree(leads, 'leads', 'lead')}, ${following} follow`),
    ),
    ...(profile === undefined ? [] : row('Profile', say`${profile.title}`)),
    ...(meant.length === 0 ? [] : row('Meant', say`${sayNames(meant)} to lead`)),
    ...(election.settled ? [] : row('UNSETTLED', prose(unsettled))),
  ];
}

function leadRows({ leaders }: Island): readonly Row[] {
  return leaders.flatMap((leader, index) => [
    ...row(
      index === 0 ? 'Leads' : 'Leads too',
      say`${leaderWords(leader)}${leader.clock.meantToLead ? '' : ', WHICH IS NOT MEANT TO LEAD'}, ${whyWords(leader)}`,
    ),
  ]);
}

/** Clocks that neither lead nor follow. */
function aside({ islands }: TimingGroup, state: TimingState, most: number): readonly Row[] {
  const labels = { passive: 'Passive', alone: 'ALONE', waits: 'WAITS', outranks: 'OUTRANKS', off: 'OFF' } as const;
  const clocks = islands.flatMap((island) => island.clocks);
  return (['passive', 'alone', 'waits', 'outranks', 'off'] as const).flatMap((role) => {
    const names = clocks.filter((clock) => state.clockRoleOf(clock) === role).map((clock) => clock.name);
    return names.length === 0 ? [] : row(labels[role], say`${sayNames(names, most)}: ${prose(CLOCK_ROLES[role])}`);
  });
}

function lossBlock(results: readonly LossResult[], all: boolean, most: number): Block {
  const grave = all ? results : results.filter((one) => one.handovers.length + one.alone.length > 0);
  const lines = lossLines(grave, most);
  const shown = all ? lines : lines.slice(0, MOST_LOSSES);
  const [further, hidden] = [lines.length - shown.length, results.length - grave.length];
  return headed(
    'IF ONE THING IS LOST',
    ...(shown.length === 0
      ? rows(row('', prose('no clock changes its grandmaster, and none is left alone')))
      : outline(shown)),
    ...rows([
      ...(shown.length === 0 ? [] : row('Times', prose(TIMES))),
      ...(further === 0 ? [] : row('Further', prose(`${further} more (--all shows them)`))),
      ...(hidden === 0
        ? []
        : row('Besides', prose(`${hidden} more change only the path to the grandmaster (--all shows them)`))),
    ]),
  );
}

const TIMES =
  'counted from the last Announce of a box that falls silent with its links still up (where the carrier goes too, all is sooner), or from the loss of a link or a reference. A clock that has chosen still has to lock, and how long that takes the plan does not say';

function loadBlocks(loads: readonly ClockLoad[]): readonly Block[] {
  return loads.length === 0 ? [] : [headed('WHAT EACH SERVES', ...outline(loads.map(loadLine)))];
}

function loadLine({ clock, followers, delayRequestsPerSecond, sentPerSecond, isOver }: ClockLoad): OutlineLine {
  const { capacity, delayRequestCapacity } = clock.settings;
  const of = (limit: number | undefined): string => (limit === undefined ? '' : ` of ${limit}`);
  const served = sayAll(
    [
      prose(`${counted(followers, 'follower')}${of(capacity)}`),
      prose(`${counted(delayRequestsPerSecond, 'delay request')} a second${of(delayRequestCapacity)}`),
      prose(`${sentPerSecond} messages a second sent`),
      ...(isOver ? [prose('MORE THAN IT CAN SERVE')] : []),
    ],
    ',',
  );
  return { depth: 0, text: say`${title(clock.name)}: ${served}` };
}
