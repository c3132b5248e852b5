/** What changed between two revisions of a plan, as steps for the crew. */
import { diffPlans, type DiffResult } from '../answers/diff.js';
import type { Terminal } from '../edge/terminal.js';
import { reportDiffJson, reportDiffText, reportSheetCsv } from '../reporters/change.js';
import { UsageError, type ExitCode } from './exit.js';
import { packageVersion } from '../edge/package.js';
import { answer, readPlan, type PlanOptions } from './plan-input.js';
import { wantsColour, widthOf, type ColourChoice } from './terminal.js';

export interface DiffCommandOptions extends PlanOptions {
  readonly format: 'text' | 'json' | 'csv';
  readonly width?: number;
  readonly colour: ColourChoice;
}

/** Compares two plans, each a file or a folder. Whatever changed, the exit code says only whether both could be read. */
export function diffCommand(old: string, now: string, options: DiffCommandOptions, terminal: Terminal): ExitCode {
  if (old === '-' && now === '-') throw new UsageError('standard input can be one of the two plans, not both');
  const before = readPlan([old], options, terminal);
  const after = readPlan([now], options, terminal);
  const loaded = {
    ...after,
    problems: [...before.problems, ...after.problems],
    whole: before.whole && after.whole,
  };
  const result = diffPlans(before, after);
  return answer(reportIn(options, result, terminal), loaded, options, terminal);
}

function reportIn(
  { format, width, colour, output }: DiffCommandOptions,
  result: DiffResult,
  terminal: Terminal,
): string {
  const version = packageVersion();
  if (format === 'json') return reportDiffJson(result, { version });
  if (format === 'csv') {
    // A sheet that lacks a part would look like a whole one; a spreadsheet has no place for what is wrong.
    if (result.comparison === undefined) throw new UsageError(unread(result));
    return reportSheetCsv(result.comparison);
  }
  return reportDiffText(result, {
    version,
    width: widthOf(width, terminal),
    colour: wantsColour(colour, terminal, output !== undefined),
  });
}

function unread({ problems }: DiffResult): string {
  const [first] = problems;
  const where = first === undefined ? '' : `: ${first.at.file}:${first.at.line} ${first.what}`;
  return `a plan can't be read${where}`;
}
