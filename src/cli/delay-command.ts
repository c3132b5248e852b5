import { addUpDelays } from '../answers/delay.js';
import type { Terminal } from '../edge/terminal.js';
import { reportDelayJson, reportDelayText } from '../reporters/delay.js';
import type { ExitCode } from './exit.js';
import { packageVersion } from '../edge/package.js';
import { answer, readPlan, type PlanOptions } from './plan-input.js';
import { known } from './unknown-name.js';
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
  const result = known(addUpDelays(loaded, options), 'no stream of the plan');
  const version = packageVersion();
  const colour = wantsColour(options.colour, terminal, options.output !== undefined);
  const text =
    options.format === 'json'
      ? reportDelayJson(result, { version })
      : reportDelayText(result, { version, width: widthOf(options.width, terminal), colour });
  return answer(text, loaded, options, terminal);
}
