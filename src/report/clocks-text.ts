/** Who leads, who follows through what, and what each loss changes, for a person. */
import type { ClockLoad } from '../model/timing/clock-load.js';
import type { LossResult } from '../model/timing/failover.js';
import type { Timing } from '../model/timing/index.js';
import { takeoverTimes } from '../model/timing/takeover-time.js';
import type { Island, Leader, Outcome, TimingGroup, TimingState } from '../model/timing/timing.js';
import { heading, joinBlocks, problemBlocks, rowWriter, type Row } from './blocks.js';
import type { ClocksResult } from './clocks-result.js';
import { effectWords, groupTitle, lossWords, qualityWords, spanWords, CLOCK_ROLES, whyWords } from './clocks-words.js';
import { hang, prose, wrap, type Piece } from './layout.js';
import { createPaint, type Paint } from './paint.js';
import { CAUTION, type ReportOptions } from './reporter.js';
import { say, sayAll, sayNames } from './say.js';
import { count } from './words.js';

/** Column in which the text beside a label starts. */
const INDENT = 13;
const MOST_NAMES = 8;
const MOST_LOSSES = 60;

/** Plain text, wrapped to the width: what could not be read, each domain as a tree, each loss, what clocks serve. */
export function reportClocksText(result: ClocksResult, options: ReportOptions): string {
  const paint = createPaint(options.colour);
  const row = rowWriter(options, paint, INDENT);
  const { timing, problems, asked } = result;
  const page: Page = { row, paint, options, most: result.all ? Infinity : MOST_NAMES, all: result.all };
  return joinBlocks([
    ...problemBlocks(problems, paint, options),
    ...(timing === undefined
      ? []
      : asked === undefined
        ? wholeBlocks(timing, page)
        : asked.flatMap((one) => askedBlocks(one, page))),
    row('Caution', prose(CAUTION)),
  ]);
}

interface Page {
  readonly row: Row;
  readonly paint: Paint;
  readonly options: ReportOptions;
  /** Names shown of a list. */
  readonly most: number;
  readonly all: boolean;
}

function wholeBlocks(timing: Timing, page: Page): readonly (readonly string[])[] {
  if (timing.clocks.length === 0) return [page.row('No clocks', prose('no device or switch of the plan states `ptp`'))];
  return [...stateBlocks(timing, page), ...lossBlocks(timing.failover, page), loadBlock(timing.loads, page)].filter(
    (lines) => lines.length > 0,
  );
}

function askedBlocks(result: LossResult, page: Page): readonly (readonly string[])[] {
  const { row, paint, options } = page;
  return [
    [
      ...heading(`WITHOUT ${lossWords(result.lost)}`, paint, options),
      ...row('Changes', effectWords(result, page.most)),
    ],
    ...stateBlocks(result.state, page),
  ];
}

function stateBlocks(state: TimingState, page: Page): readonly (readonly string[])[] {
  return state.groups.flatMap((group) => {
    const islands = group.islands.filter((island) => island.leaders.length > 0);
    return [
      [
        ...heading(groupTitle(group), page.paint, page.options),
        ...about(group, state, page),
        ...(islands.length === 0 ? page.row('Leads', prose('nobody')) : []),
      ],
      ...islands.map((island) => [...leadRows(island, page), ...treeLines(island, state, page)]),
      aside(group, state, page),
    ].filter((lines) => lines.length > 0);
  });
}

function about({ islands, election, planned }: TimingGroup, state: TimingState, { row }: Page): readonly string[] {
  const clocks = islands.flatMap((island) => island.clocks);
  const [profile] = clocks.flatMap((clock) => clock.profile ?? []);
  const meant = [
    ...new Set([
      ...planned.flatMap((one) => one.grandmasters.map((owner) => owner.name)),
      ...clocks.filter((clock) => clock.meantToLead).map((clock) => clock.name),
    ]),
  ];
  const leads = islands.flatMap((island) => island.leaders);
  const following = clocks.filter((clock) => state.clockRoleOf(clock) === 'follows').length;
  return [
    ...row(
      'Clocks',
      prose(
        `${count(clocks.length, 'clock')}: ${leads.length} ${leads.length === 1 ? 'leads' : 'lead'}, ${following} follow`,
      ),
    ),
    ...(profile === undefined ? [] : row('Profile', say`${profile.title}`)),
    ...(meant.length === 0 ? [] : row('Meant', say`${sayNames(meant)} to lead`)),
    ...(election.settled
      ? []
      : row(
          'UNSETTLED',
          prose(
            `port states still change after ${election.rounds} rounds; this is one moment of clocks that chase each other`,
          ),
        )),
  ];
}

function leadRows({ leaders }: Island, { row }: Page): readonly string[] {
  return leaders.flatMap((leader, index) => [
    ...row(
      index === 0 ? 'Leads' : 'Leads too',
      say`${leader.clock.name}${leader.clock.meantToLead ? '' : ', WHICH IS NOT MEANT TO LEAD'}, ${whyWords(leader)}`,
    ),
    ...(index > 0 ? [] : row('Takeover', takeoverWords(leader))),
  ]);
}

function takeoverWords({ clock }: Leader): readonly Piece[] {
  const { standby, followers } = takeoverTimes(clock);
  const last = `a standby leads ${spanWords(standby)} after the last Announce`;
  return prose(`${last}, its followers have it after ${spanWords(followers)}`);
}

/** Every leader with its followers, set in by how far they are from it. */
function treeLines({ leaders }: Island, state: TimingState, page: Page): readonly string[] {
  const { options, paint } = page;
  const deepest = Math.max(1, Math.floor(options.width / 8));
  const write = (depth: number, name: string, pieces: readonly Piece[]): readonly string[] => {
    const indent = 2 + 2 * Math.min(depth, deepest);
    // Text lines start in even columns and go on in odd ones, so that no name passes for a line of its own.
    return wrap(say`${name} ${pieces}`, options.width - indent - 3).map((line, index) => {
      return (
        ' '.repeat(index === 0 ? indent : indent + 3) +
        (index === 0 ? line.replace(name, () => paint.heading(name)) : line)
      );
    });
  };
  const lines: string[] = [];
  // A stack, not recursion: a chain of boundary clocks may be as long as the plan.
  const open = leaders.map(({ clock }) => ({ clock, depth: 0 })).reverse();
  for (let at = open.pop(); at !== undefined; at = open.pop()) {
    const { clock, depth } = at;
    const followers = state.followersOf(clock);
    lines.push(
      ...write(
        depth,
        clock.name,
        depth === 0 ? prose(`(${qualityWords(clock)})`) : throughWords(state.outcomeOf(clock)),
      ),
    );
    const branches = followers.filter((one) => state.followersOf(one.clock).length > 0);
    const leaves = followers.filter((one) => state.followersOf(one.clock).length === 0);
    if (leaves.length > 0)
      lines.push(
        ...write(
          depth + 1,
          'and',
          say`${count(leaves.length, 'clock')}: ${sayNames(
            leaves.map((one) => one.clock.name),
            page.most,
          )}`,
        ),
      );
    for (const { clock: next } of [...branches].reverse()) open.push({ clock: next, depth: depth + 1 });
  }
  return lines;
}

function throughWords(outcome: Outcome | undefined): readonly Piece[] {
  const parent = outcome?.parent;
  const port = parent === undefined ? undefined : outcome?.clock.ports[parent.through]?.attachment;
  if (outcome === undefined || port === undefined) return prose('');
  const networks = [...port.networks].map((one) => one.name);
  const where = networks.length === 0 ? say`port ${port.name}` : say`${sayNames(networks)}, port ${port.name}`;
  return say`(${where}, ${count(outcome.stepsRemoved, 'step')} from ${outcome.grandmaster.name})`;
}

/** Clocks that neither lead nor follow. */
function aside({ islands }: TimingGroup, state: TimingState, { row, most }: Page): readonly string[] {
  const byStanding = (['passive', 'alone', 'waits', 'outranks', 'off'] as const).map((standing) => ({
    standing,
    clocks: islands.flatMap((island) => island.clocks.filter((clock) => state.clockRoleOf(clock) === standing)),
  }));
  const labels = { passive: 'Passive', alone: 'ALONE', waits: 'WAITS', outranks: 'OUTRANKS', off: 'OFF' } as const;
  return byStanding.flatMap(({ standing, clocks }) =>
    clocks.length === 0
      ? []
      : row(
          labels[standing],
          say`${sayNames(
            clocks.map((clock) => clock.name),
            most,
          )}: ${prose(CLOCK_ROLES[standing])}`,
        ),
  );
}

function lossBlocks(results: readonly LossResult[], page: Page): readonly (readonly string[])[] {
  const { paint, options, row, all } = page;
  const grave = all ? results : results.filter((one) => one.handovers.length + one.alone.length > 0);
  const merged = mergeSteps(grave, page);
  const shown = all ? merged : merged.slice(0, MOST_LOSSES);
  const hidden = results.length - grave.length;
  return [
    [
      ...heading('IF ONE THING IS LOST', paint, options),
      ...(shown.length === 0
        ? row('', prose('no clock changes its grandmaster, and none is left alone'))
        : shown.flatMap(({ label, effect }) => entry(label, effect, page))),
      ...(shown.length === merged.length
        ? []
        : row('Further', prose(`${merged.length - shown.length} more (--all shows them)`))),
      ...(hidden === 0
        ? []
        : row('Besides', prose(`${hidden} more change only the way to the grandmaster (--all shows them)`))),
    ],
  ];
}

/** A reference lost in steps is one entry while each step does the same. */
function mergeSteps(
  results: readonly LossResult[],
  page: Page,
): readonly { readonly label: string; readonly effect: readonly Piece[] }[] {
  const merged: { label: string; readonly key: string; readonly effect: readonly Piece[] }[] = [];
  for (const result of results) {
    const effect = effectWords(result, page.most);
    const key = `${result.lost.kind} ${result.lost.name} ${effect.map(({ text }) => text).join(' ')}`;
    const last = merged.at(-1);
    if (result.lost.kind === 'reference' && last?.key === key)
      last.label = last.label.replace(/\)$/, `, then ${result.lost.clockClass ?? ''})`);
    else merged.push({ label: lossWords(result.lost), key, effect });
  }
  return merged;
}

/** One column less than there is, so that further lines can be set in by one. */
function entry(label: string, effect: readonly Piece[], { options, paint }: Page): readonly string[] {
  const lines = hang('', say`${label}: ${effect}`, { width: options.width - 1, indent: 4, paint: (text) => text });
  return lines.map((line, index) =>
    index === 0 ? line.slice(2).replace(label, () => paint.heading(label)) : ` ${line}`,
  );
}

function loadBlock(loads: readonly ClockLoad[], page: Page): readonly string[] {
  if (loads.length === 0) return [];
  return [
    ...heading('WHAT EACH SERVES', page.paint, page.options),
    ...loads.flatMap((load) => entry(load.clock.name, loadWords(load), page)),
  ];
}

function loadWords({ clock, followers, delayRequestsPerSecond, sentPerSecond, isOver }: ClockLoad): readonly Piece[] {
  const { capacity, delayRequestCapacity } = clock.settings;
  const of = (limit: number | undefined): string => (limit === undefined ? '' : ` of ${limit}`);
  return sayAll(
    [
      prose(`${count(followers, 'follower')}${of(capacity)}`),
      prose(`${count(delayRequestsPerSecond, 'delay request')} a second${of(delayRequestCapacity)}`),
      prose(`${sentPerSecond} messages a second sent`),
      ...(isOver ? [prose('MORE THAN IT CAN SERVE')] : []),
    ],
    ',',
  );
}
