/** A change sheet put into the plans it was made from. */
import type { Terminal } from '../edge/terminal.js';
import type { WrittenEdit } from '../splice/written.js';
import { applySheet, sheetEdits } from '../merge/apply.js';
import { documentsByFile, type Joined } from '../merge/files.js';
import { readSides } from '../merge/sides.js';
import { loadDocuments, type Inputs } from '../plan/load.js';
import { readInputs } from '../edge/files.js';
import type { Problem } from '../source/problem.js';
import { counted } from '../words/counts.js';
import { reportProblems } from '../reporters/problems.js';
import { loadValue } from './configuration.js';
import { EXIT, UsageError, type ExitCode } from './exit.js';
import { outputsIn, writeOutputs } from './output.js';
import { packageVersion } from '../edge/package.js';
import { inPlace, refuseInPlace, refuseTwice, type KeepOptions } from './repaired-files.js';
import { saySettled } from './settle-command.js';
import { widthOf } from './terminal.js';

export interface ApplyCommandOptions extends KeepOptions {
  readonly join?: readonly string[];
}

export function applyCommand(
  sheet: string,
  paths: readonly string[],
  options: ApplyCommandOptions,
  terminal: Terminal,
): ExitCode {
  if ((options.write === undefined) === (options.inPlace !== true))
    throw new UsageError('say where the changed plans go: --write FOLDER, or --in-place to write over the old ones');
  refuseInPlace(paths, options);
  const edits = loadSheet(sheet, terminal);
  if (terminal.ledger !== undefined) terminal.ledger.settles = options.inPlace === true;
  const { joined, problems } = readJoined(paths, options.join ?? [], terminal);
  saySettled(terminal);
  const applied = problems.length > 0 ? undefined : applySheet(edits, joined);
  const faults = applied?.problems ?? problems;
  if (applied === undefined || faults.length > 0) {
    terminal.stdout.write(
      reportProblems(faults, { version: packageVersion(), width: widthOf(undefined, terminal), colour: false }),
    );
    return EXIT.unusable;
  }
  const force = options.force ?? false;
  if (options.write !== undefined) {
    refuseTwice(joined);
    const files = [...documentsByFile(joined)].map(([name, document]) => ({
      name,
      text: applied.texts.get(name)?.text ?? document.content,
    }));
    writeOutputs(terminal, outputsIn(options.write, files, force));
  } else {
    const changed = [...applied.texts.values()].filter(({ document, text }) => text !== document.content);
    if (changed.length > 0)
      writeOutputs(
        terminal,
        changed.map(({ document, text }) => inPlace(document.name, text, force, terminal)),
      );
  }
  terminal.stdout.write(`${words(applied.changed, applied.already)}\n`);
  return EXIT.clean;
}

function words(changed: number, already: number): string {
  if (changed === 0) return 'Nothing to change: the plans say all of the sheet already.';
  const rest = already === 0 ? '' : `; ${already} said so already`;
  return `${counted(changed, 'entry')} changed${rest}.`;
}

function loadSheet(path: string, terminal: Terminal): readonly WrittenEdit[] {
  const edits = sheetEdits(loadValue(path, terminal));
  if (typeof edits === 'string') throw new UsageError(`${path}: ${edits}`);
  return edits;
}

function readJoined(
  paths: readonly string[],
  join: readonly string[],
  terminal: Terminal,
): { readonly joined: Joined; readonly problems: readonly Problem[] } {
  const taken = new Map<string, string>();
  const read = (path: string): Inputs => readInputs([path], { ...terminal, taken });
  const given = paths.map((path) => ({ from: path, ...read(path) }));
  const stated = join.map(read);
  const { sides, problems: faults } = readSides(given);
  const joining = loadDocuments(stated.flatMap(({ inputs }) => inputs));
  return {
    joined: { sides, joining: joining.documents },
    problems: [...[...given, ...stated].flatMap(({ problems }) => problems), ...joining.problems, ...faults],
  };
}
