import type { Terminal } from '../edge/terminal.js';
import { didYouMean } from '../lint/profile.js';
import { createModel } from '../model/model.js';
import { buildTrace } from '../model/explain/trace.js';
import { escapeText } from '../page/escape.js';
import { reportTraceJson, reportTraceText } from '../reporters/trace.js';
import type { TraceResult } from '../report/trace/result.js';
import type { Plan, Sender } from '../plan/types.js';
import { UsageError, type ExitCode } from './exit.js';
import { packageVersion } from '../edge/package.js';
import { answer, readPlan, type PlanOptions } from './plan-input.js';
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
  const traces = loaded.whole ? tracesOf(loaded.plan, name) : [];
  const result: TraceResult = { traces, problems: loaded.problems };
  const version = packageVersion();
  const colour = wantsColour(options.colour, terminal, options.output !== undefined);
  const text =
    options.format === 'json'
      ? reportTraceJson(result, { version })
      : reportTraceText(result, { version, width: widthOf(options.width, terminal), colour });
  return answer(text, loaded, options, terminal);
}

function tracesOf(plan: Plan, name: string): TraceResult['traces'] {
  const senders = plan.senders.filter((sender) => sender.label === name);
  if (senders.length === 0) throw new UsageError(escapeText(unknownStream(name, plan.senders)));
  const model = createModel(plan);
  return senders.map((sender) => buildTrace(model, sender));
}

function unknownStream(name: string, senders: readonly Sender[]): string {
  return `no stream of the plan is called \`${name}\`${didYouMean(
    name,
    senders.map((sender) => sender.label),
  )}`;
}
