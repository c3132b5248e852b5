/** What commands about the network read: a plan without which nothing can be said. */
import type { Terminal } from '../edge/terminal.js';
import { loadPlan, type LoadedPlan } from '../plan/load.js';
import { readInputs } from '../edge/files.js';
import { EXIT, type ExitCode } from './exit.js';
import { sayReportIn, writeWhole } from './output.js';

export interface PlanOptions {
  readonly output?: string;
  readonly force?: boolean;
  readonly stdinFormat?: string;
}

/** Reads and resolves a plan in files and folders. */
export function readPlan(paths: readonly string[], { stdinFormat }: PlanOptions, terminal: Terminal): LoadedPlan {
  const { inputs, problems } = readInputs(paths, { stdinFormat, ...terminal });
  return loadPlan(inputs, problems);
}

/** Writes an answer where it is wanted; an input that could not be read makes the exit code. */
export function answer(
  text: string,
  { problems }: LoadedPlan,
  { output, force }: PlanOptions,
  terminal: Terminal,
): ExitCode {
  if (output === undefined) terminal.stdout.write(text);
  else {
    writeWhole(terminal, output, text, force ?? false);
    sayReportIn(terminal, output);
  }
  return problems.length > 0 ? EXIT.unusable : EXIT.clean;
}
