import { drawJson } from '../draw/json.js';
import { drawText } from '../draw/text.js';
import { mergeJson } from '../report/merge/json.js';
import { mergePage } from '../report/merge/page.js';
import type { MergeResult } from '../merge/merge.js';
import type { ProgramOptions, ReportOptions } from './options.js';

/** Without a repair every finding in full; with one, the clashes by kind, the change sheet, and what is left. */
export function reportMergeText(result: MergeResult, options: ReportOptions): string {
  return drawText(mergePage(result), options);
}

/** One document in the shape of `schemas/merge.schema.json`. */
export function reportMergeJson(result: MergeResult, { version }: ProgramOptions): string {
  return drawJson(mergeJson(result, version));
}
