/** Inputs that can't be used, for commands that have nothing else to say then. */
import type { Problem } from '../source/problem.js';
import { joinBlocks, problemBlocks } from './blocks.js';
import { createPaint } from './paint.js';
import type { ReportOptions } from './reporter.js';

export function reportProblems(problems: readonly Problem[], options: ReportOptions): string {
  return joinBlocks(problemBlocks(problems, createPaint(options.colour), options));
}
