import { traceStream } from '../answers/trace.js';
import type { Terminal } from '../edge/terminal.js';
import { reportTraceJson, reportTraceText } from '../reporters/trace.js';
import { UsageError, type ExitCode } from './exit.js';
import { packageVersion } from '../edge/package.js';
import { answer, readPlan, type PlanOptions } from './plan-input.js';
import { known } from './unknown-name.js';
import { wantsColour, widthOf, type ColourChoice } from './terminal.js';

export interface TraceCommandOptions extends PlanOptions {
  readonly format: 'text' | 'json';
  readonly width?: number;
  readonly colour: ColourChoice;
}

/** Prints one stream's way; the last word names the stream. */
export function traceCommand(words: readonly string[], options: TraceCommandOptions, terminal: Terminal): ExitCode {
  const paths = words.slice(0, -1);
  const name = words.at(-1);
  if (name === undefined || paths.length === 0)
    throw new UsageError('name the plan and then the stream: rigproof trace heron/ cam-11/video');
  const loaded = readPlan(paths, options, terminal);
  const result = known(traceStream(loaded, name), 'no stream of the plan');
  const version = packageVersion();
  const colour = wantsColour(options.colour, terminal, options.output !== undefined);
  const text =
    options.format === 'json'
      ? reportTraceJson(result, { version })
      : reportTraceText(result, { version, width: widthOf(options.width, terminal), colour });
  return answer(text, loaded, options, terminal);
}
