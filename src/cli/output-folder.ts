import { existsSync, mkdirSync, renameSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { agree } from '../words/counts.js';
import { UsageError } from './exit.js';

/** A file by its name in the folder. */
export interface FolderFile {
  readonly name: string;
  readonly text: string;
}

/**
 * Writes files into a folder, which is made where there is none: all of them beside their places first, then renamed, so
 * that nothing is written unless everything can be. Existing files are kept, and then nothing is written, unless
 * `overwrite`.
 */
export function writeFolder(folder: string, files: readonly FolderFile[], overwrite: boolean): void {
  writeFiles(
    files.map(({ name, text }) => ({ name: join(folder, name), text })),
    overwrite,
  );
}

/** The same for files anywhere; `name` is the whole path. */
export function writeFiles(files: readonly FolderFile[], overwrite: boolean): void {
  const paths = files.map(({ name: path, text }) => ({ path, beside: `${path}.${process.pid}.part`, text }));
  const existing = paths.filter(({ path }) => existsSync(path));
  if (!overwrite && existing.length > 0) {
    const names = existing.map(({ path }) => path).join(', ');
    throw new UsageError(
      `${names} ${agree(existing.length, 'exists', 'exist')}; add --force to overwrite, or name another folder`,
    );
  }
  const blocked = existing.find(({ path }) => statSync(path).isDirectory());
  if (blocked !== undefined) throw new UsageError(`${blocked.path} is a folder; name another place`);
  const written: string[] = [];
  try {
    for (const { path, beside, text } of paths) {
      mkdirSync(dirname(path), { recursive: true });
      written.push(beside);
      writeFileSync(beside, text, { flag: 'wx' });
    }
    for (const { path, beside } of paths) renameSync(beside, path);
  } catch (error) {
    for (const beside of written) rmSync(beside, { force: true });
    throw new UsageError(`nothing was written (${error instanceof Error ? error.message : String(error)})`);
  }
}
