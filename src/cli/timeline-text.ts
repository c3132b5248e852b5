import type { TimelineResult } from '../answers/timeline.js';
import { packageVersion } from '../edge/package.js';
import type { Terminal } from '../edge/terminal.js';
import { reportTimelineJson, reportTimelineText } from '../reporters/timeline.js';
import { wantsColour, widthOf, type ColourChoice } from './terminal.js';

export interface TimelineTextOptions {
  readonly format: string;
  readonly output?: string;
  readonly width?: number;
  readonly colour: ColourChoice;
}

/** Timelines as JSON where that is asked for, else as text. */
export function timelineText(result: TimelineResult, options: TimelineTextOptions, terminal: Terminal): string {
  const { format, output, width, colour } = options;
  const drawn = { version: packageVersion(), width: widthOf(width, terminal) };
  return format === 'json'
    ? reportTimelineJson(result, drawn)
    : reportTimelineText(result, { ...drawn, colour: wantsColour(colour, terminal, output !== undefined) });
}
