import type { Terminal } from '../edge/terminal.js';
import { didYouMean } from '../lint/profile.js';
import { createModel } from '../model/model.js';
import type { Plan, Sender } from '../plan/types.js';
import { reportDelayJson, reportDelayText } from '../reporters/delay.js';
import type { DelayResult } from '../report/delay/result.js';
import { escapeText } from '../page/escape.js';
import { UsageError, type ExitCode } from './exit.js';
import { packageVersion } from '../edge/package.js';
import { answer, readPlan, type PlanOptions } from './plan-input.js';
import { wantsColour, widthOf, type ColourChoice } from './terminal.js';

export interface DelayCommandOptions extends PlanOptions {
  readonly format: 'text' | 'json';
  readonly stream?: string;
  readonly all?: boolean;
  readonly width?: number;
  readonly colour: ColourChoice;
}

/** Prints what each stream waits on its way, or one of them part by part. */
export function delayCommand(paths: readonly string[], options: DelayCommandOptions, terminal: Terminal): ExitCode {
  const loaded = readPlan(paths, options, terminal);
  const result: DelayResult = {
    delays: loaded.whole ? createModel(loaded.plan).delays : undefined,
    problems: loaded.problems,
    asked: options.stream === undefined || !loaded.whole ? undefined : named(loaded.plan, options.stream),
    all: options.all ?? false,
  };
  const version = packageVersion();
  const colour = wantsColour(options.colour, terminal, options.output !== undefined);
  const text =
    options.format === 'json'
      ? reportDelayJson(result, { version })
      : reportDelayText(result, { version, width: widthOf(options.width, terminal), colour });
  return answer(text, loaded, options, terminal);
}

/** Streams of a name: rigs that are joined may each have one. */
function named({ senders }: Plan, name: string): readonly Sender[] {
  const found = senders.filter(({ label }) => label === name);
  if (found.length > 0) return found;
  throw new UsageError(
    escapeText(
      `no stream of the plan is called \`${name}\`${didYouMean(
        name,
        senders.map(({ label }) => label),
      )}`,
    ),
  );
}
