import { drawText } from '../draw/text.js';
import { problemsPage } from '../report/problems.js';
import type { Problem } from '../source/problem.js';
import type { ReportOptions } from './options.js';

/** Inputs that can't be used, for commands that have nothing else to say then. */
export function reportProblems(problems: readonly Problem[], options: ReportOptions): string {
  return drawText(problemsPage(problems), options);
}
