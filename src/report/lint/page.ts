/** The report for a person who has to mend the rig: what to put a hand on, worst first, and what to do there. */
import { formatCitation } from '../../lint/citation.js';
import { findingText, type Finding, type FindingText, type LabelledLocation } from '../../lint/finding.js';
import type { LintResult } from '../../lint/result.js';
import type { Block, Page } from '../../page/page.js';
import { apart, copy, name, place, prose, say, type Phrase } from '../../page/phrase.js';
import { block, headed, inset, rowsPart, toned } from '../../page/rows.js';
import { LABEL_ROOM, problemBlocks } from '../problems.js';
import { tasksOf, type Task } from './tasks.js';
import { shortPaths } from './short-paths.js';
import { summaryRows } from './summary.js';
import { positionOf } from '../../source/locate.js';

const MOST_PLACES = 12;

/** Unreadable inputs, then tasks, then the summary; `leftOut` is what is found and shown elsewhere. */
export function lintPage(full: LintResult, leftOut: readonly Finding[] = []): Page {
  const { result, folder } = shortPaths(full);
  const tasks = tasksOf(result.findings);
  return {
    blocks: [
      ...problemBlocks(result.problems),
      ...tasks.flatMap((task, index) => taskBlocks(task, `TASK ${index + 1} of ${tasks.length}:`)),
      headed('SUMMARY', ...summaryRows(result, folder, tasks, leftOut)),
    ],
  };
}

function taskBlocks({ touch, findings }: Task, number: string): readonly Block[] {
  return [headed(`${number} ${touch.kind.toUpperCase()} ${touch.name}`), ...findings.flatMap(findingBlock)];
}

function findingBlock(finding: Finding): readonly Block[] {
  const { severity, sources, rule, subject } = finding;
  const text = findingText(finding);
  return block(
    ...rowsPart(LABEL_ROOM, [
      ...toned(severity, severity.toUpperCase(), [prose(text.what)]),
      ...inset('On air', prose(text.onAir)),
      ...inset('Do', prose(text.fix)),
      ...inset('Where', ...placesOf(finding, text)),
      ...inset('Source', prose(sources.map(formatCitation).join('; '))),
      ...inset('Key', apart(name('rule'), name(rule)), [...name('about'), ...copy(` ${subject}`)]),
    ]),
  );
}

function placesOf({ at, others }: Finding, text: FindingText): readonly Phrase[] {
  if (others.length === 0) return [labelled(at, text.at)];
  // A line that counts one more takes the room of that one.
  const shown = others.length <= MOST_PLACES ? others : others.slice(0, MOST_PLACES - 1);
  const left = others.length - shown.length;
  return [
    say`${labelled(at, text.at)} (change this first)`,
    ...shown.map((other, index) => labelled(other, text.others[index] ?? other.label)),
    ...(left === 0 ? [] : [prose(`and ${left} more, all in the JSON report`)]),
  ];
}

function labelled(at: LabelledLocation, label: string): Phrase {
  return apart(place(at.file, positionOf(at)), prose(label));
}
