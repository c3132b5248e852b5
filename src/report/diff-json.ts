/** What changed between two plans, for programs: the change sheet, and what could not be read. */
import { problemJson } from './blocks-json.js';
import type { DiffResult } from './diff-text.js';
import { safeJson } from './escape.js';
import type { ReportOptions } from './reporter.js';
import { sheetJson } from './sheet-json.js';

/** One document in the shape of `schemas/sheet.schema.json`. */
export function reportDiffJson(
  { comparison, problems }: DiffResult,
  { version }: Pick<ReportOptions, 'version'>,
): string {
  const { rigproofSheet, ...sheet } = sheetJson(comparison);
  const document = {
    rigproofSheet,
    tool: { name: 'rigproof', version },
    complete: comparison !== undefined && problems.length === 0,
    ...sheet,
    problems: problems.map(problemJson),
  };
  return `${safeJson(document)}\n`;
}
