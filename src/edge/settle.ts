/** Writings that were cut off, settled in folders that the user names. */
import { CALLS, type Calls } from '../disk/calls.js';
import { realPath, resolve } from '../disk/places.js';
import { settleFolder, type Settled } from '../disk/settle.js';
import { foldersBelow } from '../disk/walk.js';

const PATIENCE_MS = 10_000;

/** What was settled in a folder, or beside a file, and in all folders below; undefined where the path leads nowhere. */
export function settleBelow(path: string, cwd: string, calls: Calls = CALLS): readonly Settled[] | undefined {
  const real = realPath(resolve(cwd, path));
  if (real === undefined) return undefined;
  return foldersBelow(real).flatMap((folder) => settleFolder(folder, PATIENCE_MS, calls));
}
