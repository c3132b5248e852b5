/** Files that a command writes: whole, and never over existing ones unless told. */
import type { Terminal } from '../edge/terminal.js';
import { inFolder, writeFiles as write, type OutputFile } from '../edge/write.js';
import { UsageError } from './exit.js';
import { agree } from '../words/counts.js';

/** Writes one file, into a folder that is there. */
export function writeWhole({ cwd }: Terminal, name: string, text: string, overwrite: boolean): void {
  const fault = write([{ name, text }], { cwd, overwrite, makeFolders: false });
  switch (fault?.kind) {
    case undefined:
      return;
    case 'exists':
      throw new UsageError(`${name} exists; add --force to overwrite it`);
    case 'folder':
      throw new UsageError(`${name} is a folder; name another place`);
    case 'refused':
      throw new UsageError(`${name} can't be written (${fault.reason})`);
  }
}

/** Writes files into a folder, which is made where there is none: all of them or none. */
export function writeFolder(
  terminal: Terminal,
  folder: string,
  files: readonly OutputFile[],
  overwrite: boolean,
): void {
  writeFiles(terminal, inFolder(folder, files), overwrite);
}

/** The same for files anywhere, by their paths. */
export function writeFiles({ cwd }: Terminal, files: readonly OutputFile[], overwrite: boolean): void {
  const fault = write(files, { cwd, overwrite, makeFolders: true });
  switch (fault?.kind) {
    case undefined:
      return;
    case 'exists':
      throw new UsageError(
        `${fault.names.join(', ')} ${agree(fault.names.length, 'exists', 'exist')}; add --force to overwrite, or name another folder`,
      );
    case 'folder':
      throw new UsageError(`${fault.name} is a folder; name another place`);
    case 'refused':
      throw new UsageError(`nothing was written (${fault.reason})`);
  }
}
