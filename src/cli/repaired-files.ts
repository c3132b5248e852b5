/** Plans with new numbers, put where they were asked for: in a folder of their own, or over the old ones when told so. */
import type { Terminal } from '../edge/terminal.js';
import type { OutputFile } from '../edge/write.js';
import { wholeOf } from '../merge/ancestor.js';
import { documentsByFile, fileNames, type Joined } from '../merge/files.js';
import type { MergeResult } from '../merge/merge.js';
import type { ReportOptions } from '../reporters/options.js';
import { reportSheetCsv, reportSheetJson, reportSheetText } from '../reporters/change.js';
import type { Document } from '../source/document.js';
import { writeFiles, writeFolder } from './output.js';

export interface KeepOptions {
  readonly write?: string;
  readonly inPlace?: boolean;
  readonly force?: boolean;
}

/** Writes all files of all rigs, what joins them and the change sheet into a folder; or only what changes, in place. */
export function writeRepaired(
  result: MergeResult,
  options: KeepOptions,
  report: ReportOptions,
  terminal: Terminal,
): void {
  const { repaired } = result;
  if (repaired === undefined || repaired.repair.problems.length > 0) return;
  const { repair, comparison } = repaired;
  if (options.write === undefined) {
    writeFiles(terminal, changedFiles(repair.before, repair.after), true);
    return;
  }
  const plain = { ...report, colour: false };
  writeFolder(
    terminal,
    options.write,
    [
      ...[...documentsByFile(repair.after)].map(([name, document]) => ({ name, text: document.content })),
      { name: 'change-sheet.txt', text: reportSheetText(comparison, plain) },
      { name: 'change-sheet.csv', text: reportSheetCsv(comparison) },
      { name: 'change-sheet.json', text: reportSheetJson(comparison, plain, repair.edits) },
    ],
    options.force ?? false,
  );
}

/** Files whose text changes, by their paths. */
function changedFiles(before: Joined, after: Joined): readonly OutputFile[] {
  const nameOf = fileNames(before);
  const old = documentsByFile(before);
  const files: OutputFile[] = [];
  const add = (document: Document): void => {
    const whole = wholeOf(document);
    if (old.get(nameOf(document))?.content !== whole.content) files.push({ name: document.name, text: whole.content });
  };
  for (const { documents } of after.sides) documents.forEach(add);
  after.joining.forEach(add);
  return files;
}
