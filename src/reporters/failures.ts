import { drawCsv } from '../draw/csv.js';
import { drawJson } from '../draw/json.js';
import { drawText } from '../draw/text.js';
import { failuresJson } from '../report/failures/json.js';
import { failuresPage } from '../report/failures/page.js';
import { failuresTable } from '../report/failures/table.js';
import type { FailuresResult } from '../answers/failures.js';
import type { ProgramOptions, ReportOptions } from './options.js';

/** What could not be read, the failures, what could not be judged. */
export function reportFailuresText(result: FailuresResult, options: ReportOptions): string {
  return drawText(failuresPage(result), options);
}

/** One document in the shape of `schemas/failures.schema.json`. */
export function reportFailuresJson(result: FailuresResult, { version }: ProgramOptions): string {
  return drawJson(failuresJson(result, version));
}

/** One row an element, for a spreadsheet. */
export function reportFailuresCsv(result: FailuresResult): string {
  return drawCsv(failuresTable(result));
}
