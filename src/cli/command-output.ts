import type { OutputConfiguration } from 'commander';
import type { Terminal } from '../edge/terminal.js';
import { escapeText } from '../page/escape.js';

/** What stands below every help. */
export const EXIT_HELP = `
Exit codes:
  0  nothing at or above --fail-at
  1  findings at or above --fail-at, or a part not judged where it is unjudged
  2  a plan that can't be read, or wrong usage
  3  a rule or the program failed, or what it has to say can't be written

A clean result is a check on paper, not proof for air. Safety intercom and
public address follow local codes and competent testing.`;

/** Columns of the help where nothing says how wide the output is. */
const PLAIN_HELP_WIDTH = 80;

/** What commander itself says goes the same way as all else; what was typed is shown and not obeyed. */
export function outputOf({ stdout, stderr }: Terminal, words: readonly string[]): OutputConfiguration {
  const hostile = words
    .flatMap((word) => [word, word.slice(word.indexOf('=') + 1)])
    .filter((word) => escapeText(word) !== word);
  const safe = (text: string): string => hostile.reduce((now, word) => now.replaceAll(word, escapeText(word)), text);
  return {
    writeOut: (text) => {
      stdout.write(text);
    },
    writeErr: (text) => {
      stderr.write(safe(text));
    },
    getOutHelpWidth: () => stdout.columns ?? PLAIN_HELP_WIDTH,
    getErrHelpWidth: () => stdout.columns ?? PLAIN_HELP_WIDTH,
    getOutHasColors: () => false,
    getErrHasColors: () => false,
  };
}
