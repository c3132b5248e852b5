/** Writings of several files that were cut off: finished, or taken back. */
import { Busy } from '../disk/lock.js';
import { seenFrom } from '../edge/files.js';
import { settleBelow } from '../edge/settle.js';
import type { Terminal } from '../edge/terminal.js';
import { escapeText } from '../page/escape.js';
import { EXIT, UsageError, type ExitCode } from './exit.js';
import { stuckWords } from './output.js';

export function settleCommand(paths: readonly string[], terminal: Terminal): ExitCode {
  const { cwd, stdout } = terminal;
  const stuck: string[] = [];
  for (const path of paths) {
    const settled = settleAt(path, cwd);
    if (settled === undefined) throw new UsageError(`${path}: there is no such file or folder`);
    if (settled.length === 0) stdout.write(`${escapeText(path)}: nothing was cut off here.\n`);
    for (const one of settled) {
      if (one.kind === 'stuck') stuck.push(stuckWords(one, cwd));
      else {
        const names = one.files.map((file) => seenFrom(file, cwd)).join(', ');
        stdout.write(
          `${escapeText(one.kind === 'finished' ? `finished, all new: ${names}` : `taken back, all old: ${names}`)}\n`,
        );
      }
    }
  }
  const [first, ...more] = stuck;
  if (first !== undefined) throw new UsageError(first, more);
  return EXIT.clean;
}

function settleAt(path: string, cwd: string): ReturnType<typeof settleBelow> {
  try {
    return settleBelow(path, cwd);
  } catch (error) {
    if (!(error instanceof Busy)) throw error;
    throw new UsageError(
      `${error.pid === undefined ? 'another computer' : `process ${error.pid}`} is writing into ${seenFrom(error.folder, cwd)}; try again when it has ended`,
    );
  }
}

/** A command that writes over plans settles first what was cut off there, and says so. */
export function saySettled({ ledger, stderr }: Terminal): void {
  for (const words of ledger?.settled.splice(0) ?? []) stderr.write(`rigproof: ${escapeText(words)}\n`);
}
