/** The report for a person who has to mend the rig: what to put a hand on, worst first, and what to do there. */
import { type Citation, formatCitation } from '../../lint/citation.js';
import { findingText, type Finding, type FindingText, type LabelledLocation } from '../../lint/finding.js';
import type { LintResult } from '../../lint/result.js';
import type { Block, Page, Row } from '../../page/page.js';
import { apart, copy, name, place, prose, say, type Phrase } from '../../page/phrase.js';
import { block, headed, inset, rowsPart, toned } from '../../page/rows.js';
import { LABEL_ROOM, problemBlocks } from '../problems.js';
import { cureRows } from './cure-rows.js';
import { curesOf, type CureOf } from './cures.js';
import { passes, type FindingFilter } from '../../lint/filter.js';
import { frontBlocks } from './front.js';
import { tasksOf, type NumberedTask } from './tasks.js';
import { shortPaths } from './short-paths.js';
import { summaryRows, verdictRows } from './summary.js';
import { positionOf } from '../../source/locate.js';

/** More would push the next finding off the screen. */
const MOST_PLACES = 6;

/** What of a report to show. */
export interface Shown {
  readonly filter?: FindingFilter;
  /** The first page alone. */
  readonly frontOnly?: boolean;
}

/**
 * Unreadable inputs, the first page with a line a cause, the tasks, the summary; `leftOut` is what is found and shown
 * elsewhere. A filter leaves out lines and blocks and changes no number.
 */
export function lintPage(full: LintResult, leftOut: readonly Finding[] = [], shown: Shown = {}): Page {
  const { result, folder } = shortPaths(full);
  const { filter = {}, frontOnly = false } = shown;
  const tasks = tasksOf(result.findings);
  const front = [...problemBlocks(result.problems), ...frontBlocks(result, tasks, filter, leftOut)];
  if (frontOnly) return { blocks: [...front, headed('VERDICT', ...verdictRows(result, tasks, leftOut))] };
  const cureOf = curesOf(full.findings);
  return {
    blocks: [
      ...front,
      ...tasks.flatMap((task) =>
        taskBlocks(task, tasks.length, filter, (finding) => findingBlock(finding, cureOf, folder)),
      ),
      headed('SUMMARY', ...summaryRows(result, folder, tasks, leftOut)),
    ],
  };
}

function taskBlocks(
  { touch, findings, number }: NumberedTask,
  count: number,
  filter: FindingFilter,
  blockOf: (finding: Finding) => readonly Block[],
): readonly Block[] {
  const shown = findings.filter((finding) => passes(finding, filter));
  if (shown.length === 0) return [];
  const heading = `TASK ${number} of ${count}: ${touch.kind.toUpperCase()} ${touch.name}`;
  return [headed(heading), ...shown.flatMap(blockOf)];
}

function findingBlock(finding: Finding, cureOf: CureOf, folder: string): readonly Block[] {
  const { severity, sources, rule, subject } = finding;
  const text = findingText(finding);
  return block(
    ...rowsPart(LABEL_ROOM, [
      ...toned(severity, severity.toUpperCase(), [prose(text.what)]),
      ...inset('On air', prose(text.onAir)),
      ...inset('Do', prose(text.fix)),
      ...cureRows(cureOf(finding), (file) => (file.startsWith(folder) ? file.slice(folder.length) : file)),
      ...inset('Where', ...placesOf(finding, text)),
      ...sourceRows(sources),
      ...inset('Key', [...name('rule'), ...copy('    '), ...name(rule)], [...name('subject'), ...copy(` ${subject}`)]),
    ]),
  );
}

/** Published documents, and apart from them what is only a habit of the trade. */
function sourceRows(sources: readonly Citation[]): readonly Row[] {
  const published = sources.filter((source) => !('practice' in source)).map(formatCitation);
  const habits = sources.flatMap((source) => ('practice' in source ? [source.practice] : []));
  return [
    ...(published.length === 0 ? [] : inset('Source', prose(published.join('; ')))),
    ...(habits.length === 0 ? [] : inset('Trade', prose(`practice: ${habits.join('; ')}`))),
  ];
}

function placesOf({ at, others }: Finding, text: FindingText): readonly Phrase[] {
  if (others.length === 0) return [labelled(at, text.at)];
  // A line that counts one more takes the room of that one.
  const shown = others.length <= MOST_PLACES ? others : others.slice(0, MOST_PLACES - 1);
  const left = others.length - shown.length;
  return [
    say`${labelled(at, text.at)} (change this first)`,
    ...shown.map((other, index) =>
      labelled(other, text.others[index] ?? other.label, (shown[index - 1] ?? at).file === other.file),
    ),
    ...(left === 0 ? [] : [prose(`and ${left} more, all in the JSON report`)]),
  ];
}

/** A file is named once for all places in a row. */
function labelled(at: LabelledLocation, label: string, sameFile = false): Phrase {
  return apart(sameFile ? name(positionOf(at)) : place(at.file, positionOf(at)), prose(label));
}
