/** A writing that was cut off, finished where all its new texts are there, else taken back. */
import { codeOf, type Calls } from './calls.js';
import { digestAt, journalsIn, openJournal, type Journal, type JournalFile } from './journal.js';
import { lockFolders } from './lock.js';
import { isLeftover, isLock } from './names.js';
import { dirname, join } from './places.js';

export interface Pending {
  readonly journal: string;
  /** Files of the writing; undefined where the journal can't be read. */
  readonly files: readonly string[] | undefined;
}

export type Settled =
  | { readonly kind: 'finished' | 'undone'; readonly files: readonly string[] }
  /** Neither can be done: these files are neither as they were nor as they were to be, or the journal can't be read. */
  | { readonly kind: 'stuck'; readonly journal: string; readonly files: readonly string[] };

/** The first writing that was cut off in a folder, or is going on. Files that only were to be written are left out. */
export function pendingIn(folder: string, calls: Calls): Pending | undefined {
  for (const path of journalsIn(folder, calls)) {
    const journal = openJournal(path, calls);
    if (journal === undefined) continue;
    return { journal: journal.path, files: journal.files?.map(({ to }) => to) };
  }
  return undefined;
}

/** Settles all that was cut off in a folder. Throws where the disk refuses, or `Busy` where somebody is writing. */
export function settleFolder(folder: string, patience: number, calls: Calls): readonly Settled[] {
  const done: Settled[] = [];
  for (const path of journalsIn(folder, calls)) {
    const found = openJournal(path, calls);
    const folders = found?.files === undefined ? [dirname(path)] : found.journals.map((one) => dirname(one));
    const release = lockFolders(folders, patience, calls);
    try {
      // Somebody may have settled it while this one waited.
      const journal = openJournal(path, calls);
      if (journal === undefined) removeIfThere(path, calls);
      else if (journal.files === undefined) done.push({ kind: 'stuck', journal: journal.path, files: [] });
      else done.push(settle(journal, calls));
      if (done.at(-1)?.kind !== 'stuck') for (const one of folders) sweep(one, calls);
    } finally {
      release();
    }
  }
  // A writer may also have been stopped before its journal, or after it.
  if (journalsIn(folder, calls).length === 0 && hasLeftovers(folder, calls)) {
    const release = lockFolders([folder], patience, calls);
    try {
      sweep(folder, calls);
    } finally {
      release();
    }
  }
  return done;
}

/** Whether a writer has left something in a folder, or is at work there. */
export function hasLeftovers(folder: string, calls: Calls): boolean {
  return calls.readdirSync(folder).some((name) => isLeftover(name) || isLock(name));
}

/** Finishes, else takes back, what a journal says; its folders are locked. */
export function settle(journal: Journal, calls: Calls): Settled {
  const states = journal.files.map((file) => ({ file, state: stateOf(file, calls) }));
  const files = journal.files.map(({ to }) => to);
  if (states.every(({ file, state }) => state === 'new' || (state === 'old' && hasPart(file, calls)))) {
    for (const { file, state } of states) if (state === 'old') calls.renameSync(file.part, file.to);
    close(journal, calls);
    return { kind: 'finished', files };
  }
  if (states.every(({ file, state }) => state === 'old' || (state === 'new' && hasOld(file, calls)))) {
    takeBack(journal, calls);
    return { kind: 'undone', files };
  }
  const changed = states.filter(({ state }) => state === 'other').map(({ file }) => file.to);
  return { kind: 'stuck', journal: journal.path, files: changed.length > 0 ? changed : files };
}

/** Puts back what was there; what is new goes. */
export function takeBack(journal: Journal, calls: Calls): void {
  for (const file of journal.files) {
    if (stateOf(file, calls) !== 'new') continue;
    if (file.old === undefined) calls.unlinkSync(file.to);
    else calls.renameSync(file.old, file.to);
  }
  close(journal, calls);
}

/** All is in place: the folders are told to keep it, then the journals go, the one that settles it first. */
export function close({ path, files, journals }: Journal, calls: Calls): void {
  for (const folder of new Set(files.map(({ to }) => dirname(to)))) keepFolder(folder, calls);
  removeIfThere(path, calls);
  keepFolder(dirname(path), calls);
  for (const one of journals) removeIfThere(one, calls);
  for (const { part, old } of files) {
    removeIfThere(part, calls);
    if (old !== undefined) removeIfThere(old, calls);
  }
}

/** Takes away what a writer that was stopped left in a folder that nobody else writes into. */
export function sweep(folder: string, calls: Calls): void {
  for (const name of calls.readdirSync(folder)) if (isLeftover(name)) removeIfThere(join(folder, name), calls);
}

export function removeIfThere(path: string, calls: Calls): void {
  try {
    calls.unlinkSync(path);
  } catch (error) {
    if (codeOf(error) !== 'ENOENT') throw error;
  }
}

/** Flushes the names of a folder to disk, where the system can. */
export function keepFolder(folder: string, calls: Calls): void {
  let handle: number | undefined;
  try {
    handle = calls.openSync(folder, 'r');
    calls.fsyncSync(handle);
  } catch (error) {
    // Windows opens no folder; some file systems flush none.
    if (!['EISDIR', 'EPERM', 'EACCES', 'EINVAL', 'ENOTSUP', 'EBADF'].includes(codeOf(error) ?? '')) throw error;
  } finally {
    if (handle !== undefined) calls.closeSync(handle);
  }
}

function stateOf({ to, newDigest, oldDigest }: JournalFile, calls: Calls): 'new' | 'old' | 'other' {
  const now = digestAt(to, calls);
  if (now === newDigest) return 'new';
  return now === oldDigest ? 'old' : 'other';
}

function hasPart({ part, newDigest }: JournalFile, calls: Calls): boolean {
  return digestAt(part, calls) === newDigest;
}

function hasOld({ old, oldDigest }: JournalFile, calls: Calls): boolean {
  return old === undefined ? oldDigest === undefined : digestAt(old, calls) === oldDigest;
}
