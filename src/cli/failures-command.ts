import { listFailures } from '../answers/failures.js';
import type { Terminal } from '../edge/terminal.js';
import { reportFailuresCsv, reportFailuresJson, reportFailuresText } from '../reporters/failures.js';
import { EXIT, type ExitCode } from './exit.js';
import { packageVersion } from '../edge/package.js';
import { answer, readPlan, type PlanOptions } from './plan-input.js';
import { known } from './unknown-name.js';
import { wantsColour, widthOf, type ColourChoice } from './terminal.js';

export interface FailuresCommandOptions extends PlanOptions {
  readonly format: 'text' | 'json' | 'csv';
  readonly all?: boolean;
  readonly lose?: string;
  readonly width?: number;
  readonly colour: ColourChoice;
}

/** Prints what each single failure takes, or what one of them takes in full. */
export function failuresCommand(
  paths: readonly string[],
  options: FailuresCommandOptions,
  terminal: Terminal,
): ExitCode {
  const loaded = readPlan(paths, options, terminal);
  const result = known(listFailures(loaded, options), 'nothing of the plan that can fail');
  const version = packageVersion();
  const text = (colour: boolean): string =>
    reportFailuresText(result, { version, width: widthOf(options.width, terminal), colour });
  if (options.format === 'csv' && loaded.problems.length > 0) {
    // A table has no place for what could not be read.
    terminal.stderr.write(
      reportFailuresText(
        { ...result, table: undefined },
        { version, width: widthOf(options.width, terminal), colour: false },
      ),
    );
    if (!loaded.whole) return EXIT.unusable;
  }
  switch (options.format) {
    case 'json':
      return answer(reportFailuresJson(result, { version }), loaded, options, terminal);
    case 'csv':
      return answer(reportFailuresCsv(result), loaded, options, terminal);
    case 'text':
      return answer(
        text(wantsColour(options.colour, terminal, options.output !== undefined)),
        loaded,
        options,
        terminal,
      );
  }
}
