import { electClocks } from '../answers/clocks.js';
import type { Terminal } from '../edge/terminal.js';
import { reportClocksJson, reportClocksText } from '../reporters/clocks.js';
import type { ExitCode } from './exit.js';
import { packageVersion } from '../edge/package.js';
import { answer, readPlan, type PlanOptions } from './plan-input.js';
import { known } from './unknown-name.js';
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
  const result = known(electClocks(loaded, options), 'no clock, switch, link, risk or power feed of the plan');
  const version = packageVersion();
  const colour = wantsColour(options.colour, terminal, options.output !== undefined);
  const text =
    options.format === 'json'
      ? reportClocksJson(result, { version })
      : reportClocksText(result, { version, width: widthOf(options.width, terminal), colour });
  return answer(text, loaded, options, terminal);
}
