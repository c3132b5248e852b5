/** Standard output and error as files: written at once, so that what fails is known before anything else is done. */
import { writeSync } from 'node:fs';
import { codeOf, pause } from './calls.js';

/** Standard output takes no more: the disk behind it is full, for one. */
export class OutputFault extends Error {
  override readonly name = 'OutputFault';
  readonly code: string | undefined;

  constructor(error: unknown) {
    super(error instanceof Error ? error.message : String(error));
    this.code = codeOf(error);
  }
}

/** Writes all of a text; false where the reader at the other end has gone. Throws `OutputFault`. */
export function writeToStream(handle: 1 | 2, text: string): boolean {
  const bytes = Buffer.from(text);
  for (let at = 0; at < bytes.length;) {
    try {
      at += writeSync(handle, bytes, at, bytes.length - at);
    } catch (error) {
      const code = codeOf(error);
      if (code === 'EPIPE') return false;
      // A pipe that is full, and set not to wait.
      if (code !== 'EAGAIN') throw new OutputFault(error);
      pause(5);
    }
  }
  return true;
}
