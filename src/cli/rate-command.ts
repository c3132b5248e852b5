import { rateFormat } from '../answers/rate.js';
import type { Terminal } from '../edge/terminal.js';
import { reportFormsJson, reportFormsText, reportRateJson, reportRateText } from '../reporters/rate.js';
import { EXIT, UsageError, type ExitCode } from './exit.js';

export interface RateCommandOptions {
  readonly headroom?: number;
  readonly format: 'text' | 'json';
}

/** Prints what a stream of a format puts on the wire; without a format, the forms formats are said in. */
export function rateCommand(words: readonly string[], options: RateCommandOptions, terminal: Terminal): ExitCode {
  const text = words.join(' ').trim();
  const json = options.format === 'json';
  if (text === '') {
    terminal.stdout.write(json ? reportFormsJson() : reportFormsText());
    return EXIT.clean;
  }
  const result = rateFormat(text, options.headroom);
  if ('problem' in result) throw new UsageError(result.problem);
  if ('missing' in result) throw new UsageError(`\`${text}\` has no rate without ${result.missing.join(', ')}`);
  terminal.stdout.write(json ? reportRateJson(result) : reportRateText(result));
  return EXIT.clean;
}
