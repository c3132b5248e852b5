/** What changed between two plans, for programs: the change sheet, and what could not be read. */
import { problemJson, toolJson } from '../common-json.js';
import type { DiffResult } from '../../answers/diff.js';
import { sheetJson } from './sheet-json.js';

/** In the shape of `schemas/sheet.schema.json`. */
export function diffJson({ comparison, problems }: DiffResult, version: string): object {
  const { rigproofSheet, ...sheet } = sheetJson(comparison);
  return {
    rigproofSheet,
    tool: toolJson(version),
    complete: comparison !== undefined && problems.length === 0,
    ...sheet,
    problems: problems.map(problemJson),
  };
}
