import type { Comparison } from '../compare/steps.js';
import { drawCsv } from '../draw/csv.js';
import { drawJson } from '../draw/json.js';
import { drawText } from '../draw/text.js';
import { diffJson } from '../report/change/diff-json.js';
import { diffPage } from '../report/change/diff-page.js';
import type { DiffResult } from '../answers/diff.js';
import { sheetDocument, type SheetEdit } from '../report/change/sheet-json.js';
import { sheetPage } from '../report/change/sheet-page.js';
import { sheetTable } from '../report/change/sheet-table.js';
import type { ProgramOptions, ReportOptions } from './options.js';

/** What changed between two plans: in one sentence, then as a change sheet. One line where nothing changed. */
export function reportDiffText(result: DiffResult, options: ReportOptions): string {
  return drawText(diffPage(result), options);
}

/** One document in the shape of `schemas/sheet.schema.json`. */
export function reportDiffJson(result: DiffResult, { version }: ProgramOptions): string {
  return drawJson(diffJson(result, version));
}

/** The change sheet a crew works off; one line where nothing changed. */
export function reportSheetText(comparison: Comparison, options: ReportOptions): string {
  return drawText(sheetPage(comparison), options);
}

/** One document in the shape of `schemas/sheet.schema.json`; `edits` where a program wrote the changes into files. */
export function reportSheetJson(
  comparison: Comparison,
  { version }: ProgramOptions,
  edits?: readonly SheetEdit[],
): string {
  return drawJson(sheetDocument(comparison, version, edits));
}

/** One row a step, in the order it is done, for a spreadsheet. */
export function reportSheetCsv(comparison: Comparison): string {
  return drawCsv(sheetTable(comparison));
}
