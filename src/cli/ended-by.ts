import { CommanderError } from 'commander';
import { OutputFault } from '../disk/streams.js';
import type { Terminal } from '../edge/terminal.js';
import { escapeText } from '../page/escape.js';
import { EXIT, systemWords, UsageError, type ExitCode } from './exit.js';

/** Says why a command ended before its end, and how the program ends then. */
export function endedBy(error: unknown, { stderr }: Terminal): ExitCode {
  if (error instanceof CommanderError) return error.exitCode === 0 ? EXIT.clean : EXIT.unusable;
  if (error instanceof UsageError) {
    stderr.write(`rigproof: ${error.message}\n`);
    return error.exitCode;
  }
  if (error instanceof OutputFault) {
    const why = systemWords(error.code, error.message);
    stderr.write(`rigproof: standard output can't be written (${escapeText(why)})\n`);
    return EXIT.failed;
  }
  stderr.write(
    `rigproof failed: ${escapeText(error instanceof Error ? error.message : String(error))}\nThis is a fault of the program, not of the plan.\n`,
  );
  return EXIT.failed;
}
