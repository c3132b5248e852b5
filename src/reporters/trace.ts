import { drawJson } from '../draw/json.js';
import { drawText } from '../draw/text.js';
import { traceJson } from '../report/trace/json.js';
import { tracePage } from '../report/trace/page.js';
import type { TraceResult } from '../answers/trace.js';
import type { ProgramOptions, ReportOptions } from './options.js';

/** What could not be read, each stream leg by leg, what takes it. */
export function reportTraceText(result: TraceResult, options: ReportOptions): string {
  return drawText(tracePage(result), options);
}

/** One document in the shape of `schemas/trace.schema.json`. */
export function reportTraceJson(result: TraceResult, { version }: ProgramOptions): string {
  return drawJson(traceJson(result, version));
}
