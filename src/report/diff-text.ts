/** What changed between two plans, for a person: in one sentence, then as a change sheet. */
import type { Comparison } from '../compare/steps.js';
import type { Problem } from '../source/problem.js';
import { joinBlocks, problemBlocks, rowWriter } from './blocks.js';
import { prose, wrap } from './layout.js';
import { createPaint } from './paint.js';
import { CAUTION, type ReportOptions } from './reporter.js';
import { sheetBlocks } from './sheet-text.js';
import { summaryWords } from './sheet-words.js';

/** What a report on two plans is made from. */
export interface DiffResult {
  /** Undefined when a part of a plan is missing. */
  readonly comparison: Comparison | undefined;
  /** Inputs that could not be read. */
  readonly problems: readonly Problem[];
}

/** One line where nothing changed. */
export function reportDiffText({ comparison, problems }: DiffResult, options: ReportOptions): string {
  const paint = createPaint(options.colour);
  const unread = problemBlocks(problems, paint, options);
  if (comparison === undefined) return joinBlocks(unread);
  if (comparison.steps.length === 0) return joinBlocks([...unread, ['nothing changed']]);
  const row = rowWriter(options, paint);
  return joinBlocks([
    ...unread,
    wrap(prose(summaryWords(comparison.summary)), options.width),
    ...sheetBlocks(comparison, options),
    row('Caution', prose(CAUTION)),
  ]);
}
