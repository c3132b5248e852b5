/** Which file it is, and whether it has changed since. */
import { statSync, type BigIntStats } from 'node:fs';

export interface Stamp {
  /** The same for every name that leads to one file; empty where the system has no numbers for files. */
  readonly identity: string;
  readonly size: bigint;
  /** Nanoseconds. */
  readonly changed: bigint;
}

export function stampOf({ dev, ino, size, mtimeNs }: BigIntStats): Stamp {
  return { identity: ino === 0n ? '' : `${dev}:${ino}`, size, changed: mtimeNs };
}

export function sameStamp(a: Stamp, b: Stamp): boolean {
  return a.identity === b.identity && a.size === b.size && a.changed === b.changed;
}

/** What is no regular file. */
export type OddKind = 'folder' | 'pipe' | 'device' | 'socket';

/** Undefined for a regular file. */
export function oddKindOf(
  stats: Pick<BigIntStats, 'isFile' | 'isDirectory' | 'isFIFO' | 'isSocket'>,
): OddKind | undefined {
  if (stats.isFile()) return undefined;
  if (stats.isDirectory()) return 'folder';
  if (stats.isFIFO()) return 'pipe';
  return stats.isSocket() ? 'socket' : 'device';
}

/** The stamp of what is there now; undefined where nothing is. */
export function stampAt(path: string): Stamp | undefined {
  try {
    return stampOf(statSync(path, { bigint: true }));
  } catch {
    return undefined;
  }
}
