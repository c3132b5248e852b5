/**
 * Files written whole: beside their places first, flushed to disk, then renamed, so that a full disk or a pulled plug
 * leaves no half file. Several become what they are to be all together, by a journal beside them.
 */
import { randomBytes } from 'node:crypto';
import { CALLS, codeOf, type Calls } from './calls.js';
import { digestAt, digestOf, journalText, pointerText, type Journal, type JournalFile } from './journal.js';
import { Busy, lockFolders } from './lock.js';
import { journalName, oldName, partName } from './names.js';
import { makeFolder, writeFlushed, writePart } from './part.js';
import { dirname, join, resolve } from './places.js';
import { close, keepFolder, pendingIn, removeIfThere, settleFolder, sweep, takeBack, type Settled } from './settle.js';
import { oddTarget, placeOfTarget, presentAt, type OutputFile, type Target, type TargetFault } from './target.js';

export interface WriteOptions {
  /** The folder relative paths are resolved against. */
  readonly cwd: string;
  /** Folders on the way are made where there are none. */
  readonly makeFolders: boolean;
  /** Identities of the files that were read: none of them is written over unless its file says so. */
  readonly inputs?: ReadonlySet<string>;
  /** Milliseconds to wait for another writer. */
  readonly patience?: number;
  readonly calls?: Calls;
}

/** Why nothing was written; `cut` alone leaves files between old and new, and a journal that says so. */
export type WriteFault =
  | TargetFault
  | { readonly kind: 'exists'; readonly names: readonly string[] }
  /** Names that mean one file, here or on another kind of disk. */
  | { readonly kind: 'same'; readonly names: readonly string[] }
  | { readonly kind: 'busy'; readonly folder: string; readonly pid: number | undefined }
  | { readonly kind: 'stuck'; readonly journal: string; readonly files: readonly string[] }
  /** It is written, and the disk has not confirmed that it will still be after a power cut. */
  | { readonly kind: 'unsure'; readonly name: string; readonly reason: string }
  | { readonly kind: 'refused'; readonly code: string | undefined; readonly reason: string }
  | {
      readonly kind: 'cut';
      readonly done: number;
      readonly of: number;
      readonly folder: string;
      readonly reason: string;
    };

const PATIENCE_MS = 10_000;

/** Writes all of the files or none. */
export function writeAll(files: readonly OutputFile[], options: WriteOptions): WriteFault | undefined {
  const { cwd, makeFolders, patience = PATIENCE_MS, calls = CALLS } = options;
  const made: string[] = [];
  let release: () => void = () => undefined;
  let fault: WriteFault | undefined;
  try {
    fault = alike(files, cwd);
    if (fault !== undefined) return fault;
    if (makeFolders) for (const { name } of files) makeFolder(dirname(resolve(cwd, name)), made, calls);
    const placed = files.map((file) => ({ file, path: placeOfTarget(cwd, file.name, calls) }));
    const lost = placed.find(({ path }) => path === undefined);
    if (lost !== undefined) return (fault = { kind: 'link', name: lost.file.name });
    const known = placed.map(({ file, path = '' }) => ({ file, path, folder: dirname(path) }));
    for (const { file, path } of known) {
      fault = oddTarget(file.name, path, calls);
      if (fault !== undefined) return fault;
    }
    const folders = [...new Set(known.map(({ folder }) => folder))].sort();
    release = lockSettled(folders, patience, calls);
    const targets = lookAt(known, options.inputs ?? new Set(), calls);
    if ('kind' in targets) return (fault = targets);
    fault = targets.length > 1 ? writeTogether(targets, folders, calls) : writeAlone(targets, calls);
    return fault;
  } catch (error) {
    return (fault = faultOf(error, cwd));
  } finally {
    release();
    if (fault !== undefined && fault.kind !== 'cut')
      for (const folder of made.reverse())
        quietly(() => {
          calls.rmdirSync(folder);
        });
  }
}

/** Locks folders, with nothing in them left to finish. */
function lockSettled(folders: readonly string[], patience: number, calls: Calls): () => void {
  while (true) {
    for (const folder of folders) {
      const stuck = settleFolder(folder, patience, calls).find((one) => one.kind === 'stuck');
      if (stuck !== undefined) throw new Stuck(stuck);
    }
    const release = lockFolders(folders, patience, calls);
    try {
      // Between the two somebody may have begun and been stopped.
      if (folders.every((folder) => pendingIn(folder, calls) === undefined)) {
        for (const folder of folders) sweep(folder, calls);
        return release;
      }
    } catch (error) {
      release();
      throw error;
    }
    release();
  }
}

class Stuck extends Error {
  readonly settled: Settled & { readonly kind: 'stuck' };

  constructor(settled: Settled & { readonly kind: 'stuck' }) {
    super(`${settled.journal} can't be settled`);
    this.settled = settled;
  }
}

/** Two names of one file, whether it is there yet or not: some disks tell neither case nor ways to write an accent apart. */
function alike(files: readonly OutputFile[], cwd: string): WriteFault | undefined {
  const byPath = new Map<string, OutputFile>();
  for (const file of files) {
    const key = resolve(cwd, file.name).normalize('NFC').toLowerCase();
    const other = byPath.get(key);
    // Files that were read are known to be two.
    if (
      other !== undefined &&
      (other.is === undefined || file.is === undefined || other.is.identity === file.is.identity)
    )
      return { kind: 'same', names: [other.name, file.name] };
    byPath.set(key, file);
  }
  return undefined;
}

interface Placed {
  readonly file: OutputFile;
  readonly path: string;
  readonly folder: string;
}

function lookAt(placed: readonly Placed[], inputs: ReadonlySet<string>, calls: Calls): readonly Target[] | WriteFault {
  const byPath = new Map<string, string>();
  for (const { file, path } of placed) {
    const other = byPath.get(path);
    if (other !== undefined) return { kind: 'same', names: [other, file.name] };
    byPath.set(path, file.name);
  }
  const existing: string[] = [];
  const targets: Target[] = [];
  for (const { file, path, folder } of placed) {
    const { name, text } = file;
    const present = presentAt(file, path, inputs, calls);
    const over = file.over === true || file.is !== undefined;
    const fault = present !== undefined && 'kind' in present ? present : undefined;
    if (fault !== undefined && (over || fault.kind === 'folder' || fault.kind === 'device')) return fault;
    if (present !== undefined && !over) existing.push(name);
    if (present !== undefined && 'kind' in present) continue;
    targets.push({
      name,
      path,
      folder,
      present,
      bytes: typeof text === 'string' ? new TextEncoder().encode(text) : text,
    });
  }
  return existing.length > 0 ? { kind: 'exists', names: existing } : targets;
}

function writeAlone(targets: readonly Target[], calls: Calls): WriteFault | undefined {
  const id = newId();
  for (const target of targets) {
    const part = join(target.folder, partName(id, 0));
    try {
      const fault = writePart(part, target, calls);
      if (fault !== undefined) return fault;
      calls.renameSync(part, target.path);
    } finally {
      quietly(() => {
        calls.unlinkSync(part);
      });
    }
    try {
      keepFolder(target.folder, calls);
    } catch (error) {
      return { kind: 'unsure', name: target.name, reason: reasonOf(error) };
    }
  }
  return undefined;
}

function writeTogether(targets: readonly Target[], folders: readonly string[], calls: Calls): WriteFault | undefined {
  const id = newId();
  const journals = folders.map((folder) => join(folder, journalName(folder)));
  const [path = ''] = journals;
  const files = targets.map((target, number): JournalFile => {
    const { folder, present, bytes } = target;
    const [old, oldDigest] =
      present === undefined ? [] : [join(folder, oldName(id, number)), digestAt(target.path, calls)];
    return { to: target.path, part: join(folder, partName(id, number)), old, newDigest: digestOf(bytes), oldDigest };
  });
  const journal: Journal = { path, files, journals };
  let settled = false;
  try {
    const fault = prepare(targets, journal, id, calls);
    if (fault !== undefined) return fault;
    settled = true;
  } finally {
    if (!settled) forget(journal, calls);
  }
  // From here on it will be done, by this call or the next one that writes.
  let done = 0;
  try {
    for (const { part, to } of files) {
      calls.renameSync(part, to);
      done++;
    }
  } catch (error) {
    try {
      takeBack(journal, calls);
    } catch {
      return { kind: 'cut', done, of: files.length, folder: dirname(path), reason: reasonOf(error) };
    }
    throw error;
  }
  // All are new. Where the journals can't be taken away, the next call that writes does.
  quietly(() => {
    close(journal, calls);
  });
  return undefined;
}

/** All that needs room on the disk, and last the journal that settles it. */
function prepare(targets: readonly Target[], journal: Journal, id: string, calls: Calls): WriteFault | undefined {
  const { files, journals, path } = journal;
  for (const [number, target] of targets.entries()) {
    const file = files[number];
    if (file === undefined) continue;
    const fault = writePart(file.part, target, calls);
    if (fault !== undefined) return fault;
    if (file.old !== undefined) keepOld(file.to, file.old, calls);
  }
  for (const one of [...journals.slice(1), path]) {
    const folder = dirname(one);
    const part = join(folder, partName(id, files.length));
    writeFlushed(
      part,
      new TextEncoder().encode(one === path ? journalText(journal) : pointerText(one, journal)),
      undefined,
      calls,
    );
    keepFolder(folder, calls);
    calls.renameSync(part, one);
    keepFolder(folder, calls);
  }
  return undefined;
}

/** A second name for what is there; a copy where the disk has no such names. */
function keepOld(path: string, old: string, calls: Calls): void {
  try {
    calls.linkSync(path, old);
  } catch (error) {
    if (codeOf(error) === 'ENOSPC') throw error;
    calls.copyFileSync(path, old);
    const handle = calls.openSync(old, 'r+');
    try {
      calls.fsyncSync(handle);
    } finally {
      calls.closeSync(handle);
    }
  }
}

/** Nothing is settled yet: all that was made goes. The one that would settle it goes first. */
function forget({ path, files, journals }: Journal, calls: Calls): void {
  for (const one of [
    path,
    ...journals,
    ...files.flatMap(({ part, old }) => (old === undefined ? [part] : [part, old])),
  ])
    quietly(() => {
      removeIfThere(one, calls);
    });
  for (const folder of journals.map(dirname))
    quietly(() => {
      sweep(folder, calls);
    });
}

function newId(): string {
  return `${process.pid}-${randomBytes(6).toString('hex')}`;
}

function faultOf(error: unknown, cwd: string): WriteFault {
  if (error instanceof Busy) return { kind: 'busy', folder: error.folder, pid: error.pid };
  if (error instanceof Stuck) {
    const { journal, files } = error.settled;
    return { kind: 'stuck', journal, files };
  }
  return { kind: 'refused', code: codeOf(error), reason: reasonOf(error, cwd) };
}

/** Why the disk refused, its paths as seen from where the user stands. */
function reasonOf(error: unknown, cwd?: string): string {
  const said = error instanceof Error ? error.message : String(error);
  return cwd === undefined ? said : said.replaceAll(`'${cwd}/`, "'");
}

function quietly(act: () => void): void {
  try {
    act();
  } catch {
    // What is left is found and taken away by the next call that writes.
  }
}
