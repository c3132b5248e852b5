/** What one call of the program may read, and what it has read. */
import { USUAL_MOST_BYTES } from '../disk/read.js';
import type { Stamp } from '../disk/stamp.js';

export interface ReadFile {
  /** As it was first named. */
  readonly name: string;
  /** The path on the command line or in a file that led to it. */
  readonly asked: string;
  readonly stamp: Stamp;
}

export interface Ledger {
  /** Octets a file may have. */
  mostBytes: number;
  /** Folders that paths inside files may lead to, besides those of the files. */
  reach: readonly string[];
  /** Whether this call writes over what it reads: what was cut off before is settled first. */
  settles: boolean;
  /** What was settled, in words. */
  readonly settled: string[];
  /** By the identity of each. */
  readonly files: Map<string, ReadFile>;
}

export function createLedger(): Ledger {
  return { mostBytes: USUAL_MOST_BYTES, reach: [], settles: false, settled: [], files: new Map() };
}

/** The stamp of a file that was read under this name. */
export function stampOfRead({ files }: Ledger, name: string): Stamp | undefined {
  for (const file of files.values()) if (file.name === name) return file.stamp;
  return undefined;
}
