import { drawJson } from '../draw/json.js';
import { drawText } from '../draw/text.js';
import { clocksJson } from '../report/clocks/json.js';
import { clocksPage } from '../report/clocks/page.js';
import type { ClocksResult } from '../answers/clocks.js';
import type { ProgramOptions, ReportOptions } from './options.js';

/** What could not be read, each domain as a tree, each loss, what clocks serve. */
export function reportClocksText(result: ClocksResult, options: ReportOptions): string {
  return drawText(clocksPage(result), options);
}

/** One document in the shape of `schemas/clocks.schema.json`. */
export function reportClocksJson(result: ClocksResult, { version }: ProgramOptions): string {
  return drawJson(clocksJson(result, version));
}
