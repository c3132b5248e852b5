import { existsSync, renameSync, rmSync, writeFileSync } from 'node:fs';
import { resolve, sep } from 'node:path';
import type { Terminal } from '../edge/terminal.js';
import { UsageError } from './exit.js';

/**
 * Writes a whole file: beside its place first, then renamed, so that a full disk or a pulled plug leaves no half file.
 * An existing file is kept unless `overwrite`.
 */
export function writeWhole({ cwd }: Terminal, name: string, text: string, overwrite: boolean): void {
  const path = resolve(cwd, name);
  if (!overwrite && existsSync(path)) throw new UsageError(`${name} exists; add --force to overwrite it`);
  const beside = `${path}.${process.pid}.part`;
  try {
    writeFileSync(beside, text, { flag: 'wx' });
    renameSync(beside, path);
  } catch (error) {
    rmSync(beside, { force: true });
    throw new UsageError(`${name} can't be written (${reasonOf(error, cwd)})`);
  }
}

/** Why the disk refused, its paths as seen from where the user stands. */
export function reasonOf(error: unknown, cwd: string): string {
  return error instanceof Error ? error.message.replaceAll(`'${cwd}${sep}`, "'") : String(error);
}
