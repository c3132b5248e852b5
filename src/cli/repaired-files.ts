/** Plans with new numbers, put where they were asked for: in a folder of their own, or over the old ones when told so. */
import type { Terminal } from '../edge/terminal.js';
import { STDIN_NAME } from '../edge/files.js';
import { wholeOf } from '../merge/ancestor.js';
import { applySheet, sheetEdits } from '../merge/apply.js';
import { documentsByFile, twiceNamed, type Joined } from '../merge/files.js';
import type { MergeResult } from '../merge/merge.js';
import type { ReportOptions } from '../reporters/options.js';
import { reportSheetCsv, reportSheetJson, reportSheetText } from '../reporters/change.js';
import type { Document } from '../source/document.js';
import { stampOfRead } from '../edge/ledger.js';
import { UsageError } from './exit.js';
import { outputsIn, type Output } from './output.js';
import { readsBack } from './read-back.js';

export interface KeepOptions {
  readonly write?: string;
  readonly inPlace?: boolean;
  readonly force?: boolean;
}

/** What has no place of its own can't be written there. */
export function refuseInPlace(paths: readonly string[], { inPlace }: KeepOptions): void {
  if (inPlace === true && paths.includes('-'))
    throw new UsageError('standard input can not be written in place; use --write FOLDER, or name a file');
}

/** Two files that would become one. */
export function refuseTwice(joined: Joined): void {
  const [twice] = twiceNamed(joined);
  if (twice !== undefined)
    throw new UsageError(
      `nothing was written: ${twice.documents.map(({ name }) => name).join(' and ')} would both be called ${twice.file}; rename the rig or the file of one of them`,
    );
}

/** All files of all rigs, what joins them and the change sheet, for a folder; or only what changes, in place. */
export function repairedOutputs(
  result: MergeResult,
  options: KeepOptions,
  report: ReportOptions,
  terminal: Terminal,
): readonly Output[] {
  const { repaired } = result;
  if (repaired === undefined || repaired.repair.problems.length > 0) return [];
  const { repair, comparison } = repaired;
  for (const document of documentsOf(repair.after)) {
    const { name, content, format, value } = wholeOf(document);
    if (typeof content === 'string') readsBack(name, content, format, value);
  }
  if (options.write === undefined) return changedOutputs(repair.before, repair.after, options, terminal);
  refuseTwice(repair.before);
  const plain = { ...report, colour: false };
  const sheet = reportSheetJson(comparison, plain, repair.edits);
  sheetReadsBack(sheet, repair.before, repair.after);
  return outputsIn(
    options.write,
    [
      ...[...documentsByFile(repair.after)].map(([name, document]) => ({ name, text: document.content })),
      { name: 'change-sheet.txt', text: reportSheetText(comparison, plain) },
      { name: 'change-sheet.csv', text: reportSheetCsv(comparison) },
      { name: 'change-sheet.json', text: sheet },
    ],
    options.force ?? false,
  );
}

/** The sheet does to the old plans what was done to them. */
function sheetReadsBack(text: string, before: Joined, after: Joined): void {
  const edits = sheetEdits(JSON.parse(text) as unknown);
  const applied = typeof edits === 'string' ? undefined : applySheet(edits, before);
  const now = documentsByFile(after);
  const same =
    applied?.problems.length === 0 &&
    [...documentsByFile(before)].every(
      ([file, { content }]) => (applied.texts.get(file)?.text ?? content) === now.get(file)?.content,
    );
  if (!same) throw new UsageError('nothing was written: the change sheet would not give the same plans');
}

/** Files whose text changes, by their paths. */
function changedOutputs(before: Joined, after: Joined, { force }: KeepOptions, terminal: Terminal): readonly Output[] {
  const old = documentsOf(before).map(wholeOf);
  return documentsOf(after).flatMap((document, index) => {
    const { name, content } = wholeOf(document);
    if (old[index]?.content === content) return [];
    return [inPlace(name, content, force ?? false, terminal)];
  });
}

/** Over the file that was read; what was made up of options has none, and becomes a new one. */
export function inPlace(name: string, text: string | Uint8Array, force: boolean, { ledger }: Terminal): Output {
  if (name === STDIN_NAME) throw new UsageError('standard input can not be written in place; use --write FOLDER');
  const known = ledger !== undefined && stampOfRead(ledger, name) !== undefined;
  return known ? { name, text, force: false, inPlace: true } : { name, text, force };
}

function documentsOf({ sides, joining }: Joined): readonly Document[] {
  return [...sides.flatMap(({ documents }) => documents), ...joining];
}
