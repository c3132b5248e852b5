/** Files that a command writes: whole, all of them or none, and never over existing ones unless told. */
import { inFolder, type OutputFile } from '../disk/target.js';
import { writeAll, type WriteFault } from '../disk/write.js';
import { createLedger, type ReadFile } from '../edge/ledger.js';
import { seenFrom } from '../edge/files.js';
import type { Terminal } from '../edge/terminal.js';
import { escapeText } from '../page/escape.js';
import { agree, counted } from '../words/counts.js';
import { systemWords, UsageError, WriteError } from './exit.js';

/** A file to write. */
export interface Output {
  readonly name: string;
  readonly text: string | Uint8Array;
  /** It may be written over what is there. */
  readonly force: boolean;
  /** It is the file that was read by this name, as long as nobody has changed it since. */
  readonly inPlace?: boolean;
  /** Forced, it may be written over these of the files that were read. */
  readonly mayReplace?: (read: ReadFile) => boolean;
}

/** Writes one file, into a folder that is there. */
export function writeWhole(terminal: Terminal, name: string, text: string, force: boolean): void {
  writeOutputs(terminal, [{ name, text, force }], false);
}

/** Confirms that a report is in a file; nothing where it went to standard output. */
export function sayReportIn({ stdout }: Terminal, output: string | undefined): void {
  if (output !== undefined) stdout.write(`${escapeText(output)}: the report\n`);
}

/** Files by their names in a folder. */
export function outputsIn(
  folder: string,
  files: readonly { readonly name: string; readonly text: string | Uint8Array }[],
  force: boolean,
): readonly Output[] {
  return inFolder(folder, files).map(({ name, text }) => ({ name, text, force }));
}

/** Writes files, by their paths: all of them or none. Folders are made where there are none, if so wanted. */
export function writeOutputs(terminal: Terminal, outputs: readonly Output[], makeFolders = true): void {
  const { cwd, ledger = createLedger() } = terminal;
  const read = [...ledger.files.values()];
  const files = outputs.map(({ name, text, force, inPlace = false, mayReplace = () => false }): OutputFile => ({
    name,
    text,
    over: force,
    is: inPlace ? read.find((one) => one.name === name)?.stamp : undefined,
    may: read.filter(mayReplace).map(({ stamp }) => stamp),
  }));
  const fault = writeAll(files, { cwd, makeFolders, inputs: new Set(ledger.files.keys()) });
  if (fault !== undefined) throw errorOf(fault, files.length, cwd);
}

/** Codes that say the place was named wrongly, or may not be written to. */
const WRONG_PLACE = [
  'ENOENT',
  'ENOTDIR',
  'EACCES',
  'EPERM',
  'EROFS',
  'ELOOP',
  'ENAMETOOLONG',
  'EINVAL',
  'EISDIR',
  'EEXIST',
];

function errorOf(fault: WriteFault, count: number, cwd: string): UsageError {
  switch (fault.kind) {
    case 'exists': {
      const { names } = fault;
      const [name = ''] = names;
      return new UsageError(
        count === 1
          ? `${name} exists; add --force to overwrite it`
          : `${names.join(', ')} ${agree(names.length, 'exists', 'exist')}; add --force to overwrite, or name another folder`,
      );
    }
    case 'same':
      return new UsageError(
        `nothing was written: ${fault.names.join(' and ')} are one file, here or on a disk that does not tell them apart; give them different names`,
      );
    case 'folder':
      return new UsageError(`${fault.name} is a folder; name another place`);
    case 'device':
      return new UsageError(
        `${fault.name} is a ${fault.is}, not a file; name another place, or none for standard output`,
      );
    case 'link':
      return new UsageError(`${fault.name} is a link that leads nowhere; name another place, or take the link out`);
    case 'input':
      return new UsageError(
        `nothing was written: ${fault.name} is one of the files this was made from; name another place`,
      );
    case 'changed':
      return new UsageError(
        `nothing was written: ${fault.name} has been changed since it was read; run the same command again`,
      );
    case 'read-only':
      return new UsageError(`nothing was written: ${fault.name} is set to be read only`);
    case 'owner':
      return new UsageError(
        `nothing was written: ${fault.name} belongs to somebody else, whom it could not be left to; write into a folder of your own`,
      );
    case 'names':
      return new UsageError(
        `nothing was written: ${fault.name} has a second name (a hard link) that would keep the old text; write into another folder`,
      );
    case 'busy':
      return new UsageError(
        `nothing was written: ${fault.pid === undefined ? 'another computer' : `process ${fault.pid}`} is writing into ${seenFrom(fault.folder, cwd)}; try again when it has ended`,
      );
    case 'stuck':
      return new UsageError(stuckWords(fault, cwd));
    case 'cut':
      return new WriteError(
        `${fault.done} of ${counted(fault.of, 'file')} are written, and the rest can't be (${systemWords(undefined, fault.reason)}); nothing is read from there until \`rigproof settle ${seenFrom(fault.folder, cwd)}\` has finished it or taken it back`,
      );
    case 'unsure':
      return new WriteError(
        `${fault.name} is written, but the disk did not confirm it (${fault.reason}); look at it before you rely on it`,
      );
    case 'refused': {
      const { code, reason } = fault;
      const said = `nothing was written (${systemWords(code, reason)})`;
      return code !== undefined && WRONG_PLACE.includes(code) ? new UsageError(said) : new WriteError(said);
    }
  }
}

/** Of a writing that was cut off and can be neither finished nor taken back. */
export function stuckWords(
  { journal, files }: { readonly journal: string; readonly files: readonly string[] },
  cwd: string,
): string {
  const what =
    files.length === 0
      ? 'a writing was cut off, and its journal is not as this program left it'
      : `a writing was cut off, and ${files.map((one) => seenFrom(one, cwd)).join(', ')} ${agree(files.length, 'has', 'have')} been changed since`;
  return `${what}; look through the files, then remove ${seenFrom(journal, cwd)} to leave them as they are now`;
}
