import type { Terminal } from '../edge/terminal.js';
import { listFailures, type FailuresResult } from '../answers/failures.js';
import { tellTimeline } from '../answers/timeline.js';
import type { UnknownName } from '../answers/unknown-name.js';
import type { LoadedPlan } from '../plan/load.js';
import { reportFailuresCsv, reportFailuresJson, reportFailuresText } from '../reporters/failures.js';
import { EXIT, UsageError, type ExitCode } from './exit.js';
import { packageVersion } from '../edge/package.js';
import { answer, readPlan, type PlanOptions } from './plan-input.js';
import { timelineText } from './timeline-text.js';
import { known } from './unknown-name.js';
import { wantsColour, widthOf, type ColourChoice } from './terminal.js';

export interface FailuresCommandOptions extends PlanOptions {
  readonly format: 'text' | 'json' | 'csv';
  readonly all?: boolean;
  readonly lose?: string;
  readonly timeline?: boolean;
  readonly width?: number;
  readonly colour: ColourChoice;
}

/** Prints what each single failure takes, or what one of them takes in full. */
export function failuresCommand(
  paths: readonly string[],
  options: FailuresCommandOptions,
  terminal: Terminal,
): ExitCode {
  if (options.timeline === true) return timelineOf(paths, options, terminal);
  const loaded = readPlan(paths, options, terminal);
  const result = known(failuresOf(loaded, options), NOTHING);
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

const NOTHING = 'nothing of the plan that can fail';

/** A reference takes no stream: only a timeline says what follows from its loss. */
function failuresOf(loaded: LoadedPlan, options: FailuresCommandOptions): FailuresResult | UnknownName {
  const result = listFailures(loaded, options);
  const { lose } = options;
  if (!('unknown' in result) || lose === undefined || !loaded.whole || 'unknown' in tellTimeline(loaded, { lose }))
    return result;
  throw new UsageError(`the loss of ${lose} takes no stream off air; --timeline says what its clocks do`);
}

function timelineOf(paths: readonly string[], options: FailuresCommandOptions, terminal: Terminal): ExitCode {
  const { lose, format } = options;
  if (lose === undefined) throw new UsageError('--timeline needs --lose NAME: one loss after the other has no end');
  if (format === 'csv') throw new UsageError('--timeline comes as text or json');
  const loaded = readPlan(paths, options, terminal);
  const result = known(tellTimeline(loaded, { lose, all: options.all }), NOTHING);
  return answer(timelineText(result, options, terminal), loaded, options, terminal);
}
