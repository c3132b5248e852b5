/** What is asked of the system for writing. Handed in, so that a test can let any of it fail at any moment. */
import * as fs from 'node:fs';

export type Calls = Pick<
  typeof fs,
  | 'accessSync'
  | 'closeSync'
  | 'copyFileSync'
  | 'fchmodSync'
  | 'fchownSync'
  | 'fsyncSync'
  | 'linkSync'
  | 'lstatSync'
  | 'mkdirSync'
  | 'openSync'
  | 'readdirSync'
  | 'readFileSync'
  | 'realpathSync'
  | 'renameSync'
  | 'rmdirSync'
  | 'statSync'
  | 'unlinkSync'
  | 'writeSync'
>;

export const CALLS: Calls = fs;

/** The system's name of an error: `ENOSPC`; undefined where it is none of the system's. */
export function codeOf(error: unknown): string | undefined {
  const code = error instanceof Error && 'code' in error ? error.code : undefined;
  return typeof code === 'string' ? code : undefined;
}

/** Lets the whole process wait. */
export function pause(milliseconds: number): void {
  Atomics.wait(new Int32Array(new SharedArrayBuffer(4)), 0, 0, milliseconds);
}
