import { traceStream } from '../answers/trace.js';
import { lintLoaded } from '../lint/lint.js';
import { createModel } from '../model/model.js';
import type { ConventionOptions } from '../profile/conventions.js';
import { RULES } from '../../rules/index.js';
import type { Terminal } from '../edge/terminal.js';
import { reportTraceJson, reportTraceText } from '../reporters/trace.js';
import { conventionsOf } from './configuration.js';
import { todayHere } from './today.js';
import { UsageError, type ExitCode } from './exit.js';
import { packageVersion } from '../edge/package.js';
import { answer, readPlan, type PlanOptions } from './plan-input.js';
import { known } from './unknown-name.js';
import { wantsColour, widthOf, type ColourChoice } from './terminal.js';

export interface TraceCommandOptions extends PlanOptions, ConventionOptions {
  readonly today?: string;
  readonly format: 'text' | 'json';
  readonly width?: number;
  readonly colour: ColourChoice;
}

/** Prints what lint finds about one stream, and its way; the last word names the stream. */
export async function traceCommand(
  words: readonly string[],
  options: TraceCommandOptions,
  terminal: Terminal,
): Promise<ExitCode> {
  const paths = words.slice(0, -1);
  const name = words.at(-1);
  if (name === undefined || paths.length === 0)
    throw new UsageError('name the plan and then the stream: rigproof trace heron/ cam-11/video');
  const { profile, rules } = await conventionsOf(RULES, options, terminal);
  const loaded = readPlan(paths, options, terminal);
  const model = createModel(loaded.plan);
  const { findings } = lintLoaded(loaded, rules, { profile, today: options.today ?? todayHere(), model });
  const result = known(traceStream(loaded, name, { findings, model }), 'no stream of the plan');
  const version = packageVersion();
  const colour = wantsColour(options.colour, terminal, options.output !== undefined);
  const text =
    options.format === 'json'
      ? reportTraceJson(result, { version })
      : reportTraceText(result, { version, width: widthOf(options.width, terminal), colour });
  return answer(text, loaded, options, terminal);
}
