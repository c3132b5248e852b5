/** Files written whole: beside their places first, then renamed, so that a full disk or a pulled plug leaves no half file. */
import { existsSync, mkdirSync, renameSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { dirname, join, resolve, sep } from 'node:path';

/** A file by its path, as the user would name it. */
export interface OutputFile {
  readonly name: string;
  /** What it is to hold; bytes where it is no text. */
  readonly text: string | Uint8Array;
}

export interface WriteOptions {
  /** The folder relative paths are resolved against. */
  readonly cwd: string;
  /** Existing files are kept, and then nothing is written, unless this. */
  readonly overwrite: boolean;
  /** Folders on the way are made where there are none. */
  readonly makeFolders: boolean;
}

/** Why nothing was written. */
export type WriteFault =
  | { readonly kind: 'exists'; readonly names: readonly string[] }
  | { readonly kind: 'folder'; readonly name: string }
  | { readonly kind: 'refused'; readonly reason: string };

/** Writes all of the files or none. */
export function writeFiles(files: readonly OutputFile[], options: WriteOptions): WriteFault | undefined {
  const { cwd, overwrite, makeFolders } = options;
  const paths = files.map(({ name, text }) => {
    const path = resolve(cwd, name);
    return { name, path, beside: `${path}.${process.pid}.part`, text };
  });
  const existing = paths.filter(({ path }) => existsSync(path));
  if (!overwrite && existing.length > 0) return { kind: 'exists', names: existing.map(({ name }) => name) };
  const blocked = existing.find(({ path }) => statSync(path).isDirectory());
  if (blocked !== undefined) return { kind: 'folder', name: blocked.name };
  const written: string[] = [];
  try {
    for (const { path, beside, text } of paths) {
      if (makeFolders) mkdirSync(dirname(path), { recursive: true });
      written.push(beside);
      writeFileSync(beside, text, { flag: 'wx' });
    }
    for (const { path, beside } of paths) renameSync(beside, path);
    return undefined;
  } catch (error) {
    for (const beside of written) rmSync(beside, { force: true });
    return { kind: 'refused', reason: reasonOf(error, cwd) };
  }
}

/** Files by their names in a folder, as files by their paths. */
export function inFolder(folder: string, files: readonly OutputFile[]): readonly OutputFile[] {
  return files.map(({ name, text }) => ({ name: join(folder, name), text }));
}

/** Why the disk refused, its paths as seen from where the user stands. */
function reasonOf(error: unknown, cwd: string): string {
  return error instanceof Error ? error.message.replaceAll(`'${cwd}${sep}`, "'") : String(error);
}
