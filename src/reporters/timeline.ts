import type { TimelineResult } from '../answers/timeline.js';
import { drawJson } from '../draw/json.js';
import { drawText } from '../draw/text.js';
import { timelineJson } from '../report/timeline/json.js';
import { timelinePage } from '../report/timeline/page.js';
import type { ProgramOptions, ReportOptions } from './options.js';

/** What could not be read, each timeline, what was not followed. */
export function reportTimelineText(result: TimelineResult, options: ReportOptions): string {
  return drawText(timelinePage(result), options);
}

/** One document in the shape of `schemas/timeline.schema.json`. */
export function reportTimelineJson(result: TimelineResult, { version }: ProgramOptions): string {
  return drawJson(timelineJson(result, version));
}
