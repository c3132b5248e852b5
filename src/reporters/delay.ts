import { drawJson } from '../draw/json.js';
import { drawText } from '../draw/text.js';
import { delayJson } from '../report/delay/json.js';
import { delayPage } from '../report/delay/page.js';
import type { DelayResult } from '../answers/delay.js';
import type { ProgramOptions, ReportOptions } from './options.js';

/** What could not be read, pairs, round trips, receptions. */
export function reportDelayText(result: DelayResult, options: ReportOptions): string {
  return drawText(delayPage(result), options);
}

/** One document in the shape of `schemas/delay.schema.json`. */
export function reportDelayJson(result: DelayResult, { version }: ProgramOptions): string {
  return drawJson(delayJson(result, version));
}
