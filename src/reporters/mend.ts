import { drawJson } from '../draw/json.js';
import { drawText } from '../draw/text.js';
import { drawUnified } from '../draw/unified.js';
import type { MendResult } from '../mend/mend.js';
import { differencesOf } from '../report/mend/differences.js';
import { mendJson } from '../report/mend/json.js';
import { mendPage } from '../report/mend/page.js';
import type { ProgramOptions, ReportOptions } from './options.js';

/** What was mended and what was not, then the unified diff of the files, which `patch` takes as it is. */
export function reportMendText(result: MendResult, options: ReportOptions): string {
  const difference = reportMendDiff(result);
  return `${drawText(mendPage(result), options)}${difference === '' ? '' : `\n${difference}`}`;
}

/** One document in the shape of `schemas/mend.schema.json`. */
export function reportMendJson(result: MendResult, { version }: ProgramOptions): string {
  return drawJson(mendJson(result, version));
}

/** The unified diff alone; empty where no file changes. */
export function reportMendDiff(result: MendResult): string {
  return drawUnified(differencesOf(result));
}
