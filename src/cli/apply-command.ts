/** A change sheet put into the plans it was made from. */
import type { WrittenEdit } from '../splice/written.js';
import { applySheet, sheetEdits } from '../merge/apply.js';
import { documentsByFile, type Joined } from '../merge/files.js';
import { readSides } from '../merge/sides.js';
import { readInputs } from '../read/files.js';
import { readDocument } from '../read/index.js';
import type { Document } from '../source/document.js';
import type { Problem } from '../source/problem.js';
import { counted } from '../words/counts.js';
import { reportProblems } from '../reporters/problems.js';
import { loadValue } from './configuration.js';
import { EXIT, UsageError, type ExitCode } from './exit.js';
import { writeFiles, writeFolder } from './output-folder.js';
import { packageVersion } from './package.js';
import type { KeepOptions } from './repaired-files.js';
import { widthOf } from './terminal.js';

export interface ApplyCommandOptions extends KeepOptions {
  readonly join?: readonly string[];
}

export function applyCommand(sheet: string, paths: readonly string[], options: ApplyCommandOptions): ExitCode {
  if ((options.write === undefined) === (options.inPlace !== true))
    throw new UsageError('say where the changed plans go: --write FOLDER, or --in-place to write over the old ones');
  const edits = loadSheet(sheet);
  const { joined, problems } = readJoined(paths, options.join ?? []);
  const applied = problems.length > 0 ? undefined : applySheet(edits, joined);
  const faults = applied?.problems ?? problems;
  if (applied === undefined || faults.length > 0) {
    process.stdout.write(
      reportProblems(faults, { version: packageVersion(), width: widthOf(undefined), colour: false }),
    );
    return EXIT.unusable;
  }
  if (options.write !== undefined) {
    const files = [...documentsByFile(joined)].map(([name, document]) => ({
      name,
      text: applied.texts.get(name)?.text ?? document.text,
    }));
    writeFolder(options.write, files, options.force ?? false);
  } else
    writeFiles(
      [...applied.texts.values()].map(({ document, text }) => ({ name: document.name, text })),
      true,
    );
  process.stdout.write(`${words(applied.changed, applied.already)}\n`);
  return EXIT.clean;
}

function words(changed: number, already: number): string {
  if (changed === 0) return 'Nothing to change: the plans say all of the sheet already.';
  const rest = already === 0 ? '' : `; ${already} said so already`;
  return `${counted(changed, 'entry')} changed${rest}.`;
}

function loadSheet(path: string): readonly WrittenEdit[] {
  const edits = sheetEdits(loadValue(path));
  if (typeof edits === 'string') throw new UsageError(`${path}: ${edits}`);
  return edits;
}

function readJoined(
  paths: readonly string[],
  join: readonly string[],
): { readonly joined: Joined; readonly problems: readonly Problem[] } {
  const problems: Problem[] = [];
  const given = paths.map((path) => {
    const read = readInputs([path]);
    problems.push(...read.problems);
    return { from: path, inputs: read.inputs };
  });
  const joining: Document[] = [];
  for (const path of join) {
    const inputs = readInputs([path]);
    problems.push(...inputs.problems);
    for (const input of inputs.inputs) {
      const { document, problems: faults } = readDocument(input);
      if (document === undefined) problems.push(...faults);
      else joining.push(document);
    }
  }
  const { sides, problems: faults } = readSides(given);
  return { joined: { sides, joining }, problems: [...problems, ...faults] };
}
