/** Profiles, convention rules, baselines and sheets from files named on the command line. */
import { besides, faultAt, readInput, tooFar } from '../edge/files.js';
import { runModule } from '../edge/modules.js';
import type { Terminal } from '../edge/terminal.js';
import type { Baseline } from '../lint/baseline.js';
import type { Rule } from '../lint/rule.js';
import {
  loadConventions,
  type Conventions,
  type ConventionFiles,
  type ConventionOptions,
} from '../profile/conventions.js';
import { readBaseline } from '../profile/read-baseline.js';
import { readAnyTree, type Input } from '../read/index.js';
import type { Problem } from '../source/problem.js';
import { UsageError } from './exit.js';

/** The rules a command judges by: the built-in ones and the conventions' own, as its profile sets them. */
export async function conventionsOf(
  builtIn: readonly Rule[],
  options: ConventionOptions,
  terminal: Terminal,
): Promise<Pick<Conventions, 'rules' | 'profile'>> {
  const conventions = await loadConventions(builtIn, options, conventionFiles(terminal));
  if (conventions.problems.length > 0) throw refusal(conventions.problems);
  return conventions;
}

export function loadBaseline(path: string, terminal: Terminal): Baseline {
  const { baseline, problems } = readBaseline(openFile(path, terminal));
  if (baseline === undefined) throw refusal(problems);
  return baseline;
}

/** A YAML or JSON file as plain values. */
export function loadValue(path: string, terminal: Terminal): unknown {
  const { document, problems } = readAnyTree(openFile(path, terminal));
  if (document === undefined) throw refusal(problems);
  return document.value;
}

function conventionFiles(terminal: Terminal): ConventionFiles {
  return {
    open: (path) => readInput(path, terminal),
    run: (path, from) => {
      const at = from === undefined ? path : besides(from, path);
      // What a file names leads no further than its own folder, unless the user says so: here it would even be run.
      if (from !== undefined && tooFar(from, at, terminal) !== undefined)
        throw new Error('it lies outside the folder of the profile; allow its folder: `--reach FOLDER`');
      const fault = faultAt(at, terminal);
      if (fault !== undefined) throw new Error(fault);
      return runModule(path, from, terminal.cwd);
    },
  };
}

function openFile(path: string, terminal: Terminal): Input {
  const opened = readInput(path, terminal);
  if ('at' in opened) throw refusal([opened]);
  return opened;
}

/** How a command ends whose settings are wrong. */
function refusal(problems: readonly Problem[]): UsageError {
  const [first = '', ...more] = problems.map(lineOf);
  return new UsageError(first, more);
}

function lineOf({ at, what, instead }: Problem): string {
  // What stands nowhere in the file is said of the whole of it.
  const isWhole = at.line === at.endLine && at.line === 1 && at.column === at.endColumn && at.column === 1;
  const where = isWhole ? at.file : `${at.file} line ${at.line}, column ${at.column}`;
  return `${where}: ${what}; ${instead}`;
}
