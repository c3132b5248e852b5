import type { Terminal } from '../edge/terminal.js';
import { didYouMean } from '../lint/profile.js';
import { createModel } from '../model/model.js';
import { namedLosses, type LossResult } from '../model/timing/failover.js';
import type { Timing } from '../model/timing/index.js';
import type { Plan } from '../plan/types.js';
import { reportClocksJson, reportClocksText } from '../reporters/clocks.js';
import type { ClocksResult } from '../report/clocks/result.js';
import { escapeText } from '../page/escape.js';
import { UsageError, type ExitCode } from './exit.js';
import { packageVersion } from '../edge/package.js';
import { answer, readPlan, type PlanOptions } from './plan-input.js';
import { wantsColour, widthOf, type ColourChoice } from './terminal.js';

export interface ClocksCommandOptions extends PlanOptions {
  readonly format: 'text' | 'json';
  readonly all?: boolean;
  readonly lose?: string;
  readonly width?: number;
  readonly colour: ColourChoice;
}

/** Prints who leads each PTP domain and who follows through what; with `--lose`, the same after a loss. */
export function clocksCommand(paths: readonly string[], options: ClocksCommandOptions, terminal: Terminal): ExitCode {
  const loaded = readPlan(paths, options, terminal);
  const timing = loaded.whole ? createModel(loaded.plan).timing : undefined;
  const result: ClocksResult = {
    timing,
    problems: loaded.problems,
    asked:
      options.lose === undefined || timing === undefined ? undefined : lossesNamed(options.lose, loaded.plan, timing),
    all: options.all ?? false,
  };
  const version = packageVersion();
  const colour = wantsColour(options.colour, terminal, options.output !== undefined);
  const text =
    options.format === 'json'
      ? reportClocksJson(result, { version })
      : reportClocksText(result, { version, width: widthOf(options.width, terminal), colour });
  return answer(text, loaded, options, terminal);
}

/** Losses of a name; `switch red-core` names one kind only, and `reference clock-201` its reference alone. */
function lossesNamed(name: string, plan: Plan, timing: Timing): readonly LossResult[] {
  const losses = namedLosses(plan, timing);
  const found = losses.filter(
    (one) => `${one.kind} ${one.name}` === name || (one.name === name && one.kind !== 'reference'),
  );
  if (found.length > 0) return found.map((one) => timing.without(one));
  throw new UsageError(
    escapeText(
      `no clock, switch, link, risk or power feed of the plan is called \`${name}\`${didYouMean(
        name,
        losses.map((one) => one.name),
      )}`,
    ),
  );
}
