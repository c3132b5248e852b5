import type { Terminal } from '../edge/terminal.js';
import { didYouMean } from '../lint/profile.js';
import { crewSheets, SHEETS, type CrewSheet, type SheetName } from '../reporters/crew.js';
import { escapeText } from '../page/escape.js';
import { reportProblems } from '../reporters/problems.js';
import { counted } from '../words/counts.js';
import { EXIT, UsageError, type ExitCode } from './exit.js';
import { outputsIn, writeOutputs, type Output } from './output.js';
import { packageVersion } from '../edge/package.js';
import { readPlan, type PlanOptions } from './plan-input.js';
import { widthOf } from './terminal.js';

export interface SheetsCommandOptions extends PlanOptions {
  readonly only?: string;
}

/** What to add to a plan so that a sheet has rows. */
const FILLED_BY: Readonly<Record<SheetName, string>> = {
  hosts: 'give devices `interfaces`',
  streams: 'give devices `senders`',
  vlans: 'list `vlans`',
  ports: 'give switches `ports`',
  clocks: 'give devices and switches their `ptp`',
};

/** Writes the sheets of a plan into a folder, or one of them to standard output. */
export function sheetsCommand(paths: readonly string[], options: SheetsCommandOptions, terminal: Terminal): ExitCode {
  const only = options.only === undefined ? SHEETS : sheetNames(options.only);
  const { output } = options;
  if (output === undefined && only.length !== 1) {
    throw new UsageError('say where the sheets go: --output FOLDER, or --only hosts for one on standard output');
  }
  const loaded = readPlan(paths, options, terminal);
  if (loaded.problems.length > 0) {
    const page = { version: packageVersion(), width: widthOf(undefined, terminal), colour: false };
    terminal.stderr.write(reportProblems(loaded.problems, page));
    // A host list with hosts missing is worse than none.
    if (!loaded.whole) return EXIT.unusable;
  }
  const sheets = crewSheets(loaded.plan, only);
  const empty = only.filter((name) => !sheets.some((sheet) => sheet.name === `${name}.csv`));
  if (sheets.length === 0) throw new UsageError(`the plan states nothing for ${andLists(empty)}`);
  if (output === undefined) terminal.stdout.write(sheets.map(({ text }) => text).join(''));
  else terminal.stdout.write(writeSheets(terminal, output, sheets, empty, options.force ?? false));
  return loaded.problems.length > 0 ? EXIT.unusable : EXIT.clean;
}

/** Writes sheets into a folder, with what else there is to write, and says which, and which would have been empty. */
export function writeSheets(
  terminal: Terminal,
  folder: string,
  sheets: readonly CrewSheet[],
  empty: readonly SheetName[],
  overwrite: boolean,
  others: readonly Output[] = [],
): string {
  const files = outputsIn(folder, sheets, overwrite);
  writeOutputs(terminal, [...others, ...files]);
  const lines = [
    ...files.map(({ name }, index) => `${escapeText(name)}: ${counted(sheets[index]?.rows ?? 0, 'row')}`),
    ...empty.map((name) => `no ${name}.csv: the plan states nothing for it; ${FILLED_BY[name]}`),
  ];
  return lines.map((line) => `${line}\n`).join('');
}

function andLists(names: readonly SheetName[]): string {
  return names.map((name) => `the sheet ${name} (${FILLED_BY[name]})`).join(', ');
}

function sheetNames(text: string): readonly SheetName[] {
  const names = text
    .split(',')
    .map((name) => name.trim().toLowerCase())
    .filter((name) => name !== '');
  const known = SHEETS.filter((name) => names.includes(name));
  const wrong = names.find((name) => !(SHEETS as readonly string[]).includes(name));
  if (wrong === undefined && known.length > 0) return known;
  throw new UsageError(
    wrong === undefined
      ? `--only names no sheet; there are ${SHEETS.join(', ')}`
      : `there is no sheet \`${wrong}\`${didYouMean(wrong, SHEETS)}; there are ${SHEETS.join(', ')}`,
  );
}
