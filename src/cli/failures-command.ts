import type { Terminal } from '../edge/terminal.js';
import { didYouMean } from '../lint/profile.js';
import { createModel } from '../model/model.js';
import { buildFailureTable, elementsOf } from '../model/explain/failure-table.js';
import type { Plan } from '../plan/types.js';
import { escapeText } from '../page/escape.js';
import { reportFailuresCsv, reportFailuresJson, reportFailuresText } from '../reporters/failures.js';
import type { FailuresResult } from '../report/failures/result.js';
import { EXIT, UsageError, type ExitCode } from './exit.js';
import { packageVersion } from '../edge/package.js';
import { answer, readPlan, type PlanOptions } from './plan-input.js';
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
  const result: FailuresResult = {
    table: loaded.whole ? buildFailureTable(createModel(loaded.plan)) : undefined,
    problems: loaded.problems,
    asked: options.lose === undefined || !loaded.whole ? undefined : named(loaded.plan, options.lose),
    all: options.all ?? false,
  };
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

/** Elements of a name; `switch red-core` names one kind only. */
function named(plan: Plan, name: string): FailuresResult['asked'] {
  const elements = elementsOf(plan);
  const found = elements.filter((one) => one.name === name || `${one.kind} ${one.name}` === name);
  if (found.length > 0) return found;
  throw new UsageError(
    escapeText(
      `nothing of the plan that can fail is called \`${name}\`${didYouMean(
        name,
        elements.map((one) => one.name),
      )}`,
    ),
  );
}
