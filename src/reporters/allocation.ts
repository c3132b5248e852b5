import { drawJson } from '../draw/json.js';
import { drawText } from '../draw/text.js';
import { fullnessJson, refusalsJson } from '../report/allocation/json.js';
import { fullnessPage, refusalsPage } from '../report/allocation/page.js';
import type { FullnessResult, PlacedRefusal } from '../report/allocation/result.js';
import type { ReportOptions } from './options.js';

/** Why a request can't be met: each reason with what is short and the change that was tried and found to do. */
export function reportRefusalsText(refusals: readonly PlacedRefusal[], options: ReportOptions): string {
  return drawText(refusalsPage(refusals), options);
}

export function reportRefusalsJson(refusals: readonly PlacedRefusal[]): string {
  return drawJson(refusalsJson(refusals));
}

/** How full each range is after an allocation, and notes. */
export function reportFullnessText(result: FullnessResult, options: ReportOptions): string {
  return drawText(fullnessPage(result), options);
}

export function reportFullnessJson(result: FullnessResult): string {
  return drawJson(fullnessJson(result));
}
