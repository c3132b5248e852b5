import { escapeText } from '../page/escape.js';

/** How the program ends. Never a count. */
export const EXIT = {
  /** Nothing at or above the failing severity. */
  clean: 0,
  /** Findings at or above the failing severity. */
  findings: 1,
  /** A plan that can't be read, or wrong usage. */
  unusable: 2,
  /** A rule or the program failed, or what it has to say could not be written. */
  failed: 3,
} as const;

export type ExitCode = (typeof EXIT)[keyof typeof EXIT];

/** A message for the user that ends the program; not a fault of the program. Text in it may come from anywhere. */
export class UsageError extends Error {
  override readonly name: string = 'UsageError';
  readonly exitCode: ExitCode = EXIT.unusable;

  /** The first line, and more of them. */
  constructor(text: string, more: readonly string[] = []) {
    super([text, ...more].map(escapeText).join('\n'));
  }
}

/** The disk or the stream takes no more. */
export class WriteError extends UsageError {
  override readonly name = 'WriteError';
  override readonly exitCode = EXIT.failed;
}

/** Why the system refused, where people have better words than its own. */
export function systemWords(code: string | undefined, reason: string): string {
  if (code === 'ENOSPC' || code === 'EDQUOT') return 'there is no room left on the disk';
  if (code === 'EROFS') return 'the disk may only be read';
  return reason;
}
