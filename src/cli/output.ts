import { existsSync, renameSync, rmSync, writeFileSync } from 'node:fs';
import { UsageError } from './exit.js';

/**
 * Writes a whole file: beside its place first, then renamed, so that a full disk or a pulled plug leaves no half file.
 * An existing file is kept unless `overwrite`.
 */
export function writeWhole(path: string, text: string, overwrite: boolean): void {
  if (!overwrite && existsSync(path)) throw new UsageError(`${path} exists; add --force to overwrite it`);
  const beside = `${path}.${process.pid}.part`;
  try {
    writeFileSync(beside, text, { flag: 'wx' });
    renameSync(beside, path);
  } catch (error) {
    rmSync(beside, { force: true });
    throw new UsageError(`${path} can't be written (${error instanceof Error ? error.message : String(error)})`);
  }
}
