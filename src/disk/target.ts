/** What is where a file is to be written. */
import { constants } from 'node:fs';
import { codeOf, type Calls } from './calls.js';
import { dirname, join, basename, resolve } from './places.js';
import { oddKindOf, sameStamp, stampOf, type OddKind, type Stamp } from './stamp.js';

/** A file by its path, as the user would name it. */
export interface OutputFile {
  readonly name: string;
  /** What it is to hold; bytes where it is no text. */
  readonly text: string | Uint8Array;
  /** It may be there, and is written anew. */
  readonly over?: boolean;
  /** It is this file that was read, and as it was then. */
  readonly is?: Stamp | undefined;
  /** Those of the files that were read which it may be, and then as they were. */
  readonly may?: readonly Stamp[];
}

/** Files by their names in a folder, as files by their paths. */
export function inFolder<T extends { readonly name: string }>(folder: string, files: readonly T[]): readonly T[] {
  return files.map((file) => ({ ...file, name: join(folder, file.name) }));
}

/** A target found out: where it really is, and whose it stays. */
export interface Target {
  readonly name: string;
  readonly bytes: Uint8Array;
  /** All links followed. */
  readonly path: string;
  readonly folder: string;
  readonly present: Present | undefined;
}

export interface Present {
  readonly mode: number;
  readonly uid: number;
  readonly gid: number;
  readonly stamp: Stamp;
}

/** Why a file is not written. */
export type TargetFault =
  | { readonly kind: 'folder' | 'link' | 'changed' | 'input' | 'read-only' | 'owner' | 'names'; readonly name: string }
  | { readonly kind: 'device'; readonly name: string; readonly is: Exclude<OddKind, 'folder'> };

/** The real path of a file to be written, whose folder is there; undefined where a link leads nowhere. */
export function placeOfTarget(cwd: string, name: string, calls: Calls): string | undefined {
  const path = resolve(cwd, name);
  try {
    calls.lstatSync(path);
  } catch (error) {
    if (codeOf(error) !== 'ENOENT') throw error;
    return join(calls.realpathSync.native(dirname(path)), basename(path));
  }
  try {
    return calls.realpathSync.native(path);
  } catch (error) {
    if (codeOf(error) !== 'ENOENT') throw error;
  }
  try {
    // An open pipe of this process, as `/dev/stdout` may be, is there and has no path.
    calls.statSync(path, { bigint: true });
    return path;
  } catch (error) {
    if (codeOf(error) !== 'ENOENT') throw error;
    return undefined;
  }
}

/** What is no file and never will be one, told before anything is asked of the folder it stands in. */
export function oddTarget(name: string, path: string, calls: Calls): TargetFault | undefined {
  try {
    return oddFault(name, oddKindOf(calls.statSync(path, { bigint: true })));
  } catch (error) {
    if (codeOf(error) !== 'ENOENT') throw error;
    return undefined;
  }
}

function oddFault(name: string, odd: OddKind | undefined): TargetFault | undefined {
  if (odd === undefined) return undefined;
  return odd === 'folder' ? { kind: 'folder', name } : { kind: 'device', name, is: odd };
}

/** What is there, or why it stays as it is. `inputs`: identities of files that were read. */
export function presentAt(
  { name, is, may = [] }: OutputFile,
  path: string,
  inputs: ReadonlySet<string>,
  calls: Calls,
): Present | TargetFault | undefined {
  let stats;
  try {
    stats = calls.statSync(path, { bigint: true });
  } catch (error) {
    if (codeOf(error) !== 'ENOENT') throw error;
    return is === undefined ? undefined : { kind: 'changed', name };
  }
  const odd = oddFault(name, oddKindOf(stats));
  if (odd !== undefined) return odd;
  const stamp = stampOf(stats);
  const read = is ?? may.find(({ identity }) => identity === stamp.identity);
  if (read === undefined && inputs.has(stamp.identity)) return { kind: 'input', name };
  if (read !== undefined && !sameStamp(stamp, read)) return { kind: 'changed', name };
  // A new file takes the place of the old one: a second name would keep the old text.
  if (stats.nlink > 1n) return { kind: 'names', name };
  try {
    calls.accessSync(path, constants.W_OK);
  } catch {
    return { kind: 'read-only', name };
  }
  return { mode: Number(stats.mode) & 0o7777, uid: Number(stats.uid), gid: Number(stats.gid), stamp };
}
