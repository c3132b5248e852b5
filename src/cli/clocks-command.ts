import { electClocks } from '../answers/clocks.js';
import { tellTimeline } from '../answers/timeline.js';
import type { Terminal } from '../edge/terminal.js';
import { reportClocksJson, reportClocksText } from '../reporters/clocks.js';
import { UsageError, type ExitCode } from './exit.js';
import { timelineText } from './timeline-text.js';
import { packageVersion } from '../edge/package.js';
import { answer, readPlan, type PlanOptions } from './plan-input.js';
import { known } from './unknown-name.js';
import { wantsColour, widthOf, type ColourChoice } from './terminal.js';

export interface ClocksCommandOptions extends PlanOptions {
  readonly format: 'text' | 'json';
  readonly all?: boolean;
  readonly lose?: string;
  readonly return?: boolean;
  readonly width?: number;
  readonly colour: ColourChoice;
}

/** Prints who leads each PTP domain and who follows through what; with `--lose`, the same after a loss. */
export function clocksCommand(paths: readonly string[], options: ClocksCommandOptions, terminal: Terminal): ExitCode {
  const { lose } = options;
  if (options.return === true && lose === undefined)
    throw new UsageError('--return needs --lose NAME: what is given back');
  const loaded = readPlan(paths, options, terminal);
  if (options.return === true && lose !== undefined) {
    const timeline = known(tellTimeline(loaded, { lose, back: true, all: options.all }), NOTHING);
    return answer(timelineText(timeline, options, terminal), loaded, options, terminal);
  }
  const result = known(electClocks(loaded, options), NOTHING);
  const version = packageVersion();
  const colour = wantsColour(options.colour, terminal, options.output !== undefined);
  const text =
    options.format === 'json'
      ? reportClocksJson(result, { version })
      : reportClocksText(result, { version, width: widthOf(options.width, terminal), colour });
  return answer(text, loaded, options, terminal);
}

const NOTHING = 'no clock, switch, link, risk or power feed of the plan';
