import { packagePage } from '../edge/package.js';
import type { Terminal } from '../edge/terminal.js';
import { EXIT, type ExitCode } from './exit.js';

/** Prints the licences that the build has put together. */
export function licencesCommand(terminal: Terminal): ExitCode {
  terminal.stdout.write(packagePage('dist', 'program', 'licences.txt'));
  return EXIT.clean;
}
