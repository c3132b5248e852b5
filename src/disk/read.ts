/** Files read whole: regular ones alone, up to a size, and never waiting for anybody. */
import { closeSync, constants, fstatSync, openSync, readSync, realpathSync, statSync } from 'node:fs';
import { codeOf, pause } from './calls.js';
import { oddKindOf, stampOf, type OddKind, type Stamp } from './stamp.js';

/** Octets a file may have where nobody says otherwise. */
export const USUAL_MOST_BYTES = 256_000_000;

export interface Opened {
  readonly bytes: Uint8Array;
  /** Where it really lies, all links followed. */
  readonly real: string;
  readonly stamp: Stamp;
}

export type ReadFault =
  | { readonly fault: OddKind | 'missing' | 'forbidden' | 'circle' }
  /** Octets that are read at most. */
  | { readonly fault: 'large'; readonly most: number }
  | { readonly fault: 'failed'; readonly reason: string };

/** A regular file of at most `most` octets. What is none is not even opened: opening a device may set it going. */
export function readWhole(path: string, most: number): Opened | ReadFault {
  let handle: number | undefined;
  try {
    const before = oddKindOf(statSync(path, { bigint: true }));
    if (before !== undefined) return { fault: before };
    // It may have become a pipe meanwhile: such an open does not wait for somebody who writes. Windows has no such words.
    handle = openSync(path, constants.O_RDONLY | constants.O_NONBLOCK | constants.O_NOCTTY);
    const stats = fstatSync(handle, { bigint: true });
    const odd = oddKindOf(stats);
    if (odd !== undefined) return { fault: odd };
    if (stats.size > most) return { fault: 'large', most };
    const bytes = readOn(handle, Number(stats.size), most);
    if (bytes === undefined) return { fault: 'large', most };
    return { bytes, real: realpathSync.native(path), stamp: stampOf(stats) };
  } catch (error) {
    return faultOf(error);
  } finally {
    if (handle !== undefined) closeSync(handle);
  }
}

/** All of standard input, up to `most` octets. */
export function readStandardInput(most: number): Uint8Array | ReadFault {
  try {
    return readOn(0, 0, most) ?? { fault: 'large', most };
  } catch (error) {
    return faultOf(error);
  }
}

export function faultOf(error: unknown): ReadFault {
  const code = codeOf(error);
  if (code === 'ENOENT' || code === 'ENOTDIR') return { fault: 'missing' };
  if (code === 'EACCES' || code === 'EPERM') return { fault: 'forbidden' };
  if (code === 'EISDIR') return { fault: 'folder' };
  if (code === 'ELOOP') return { fault: 'circle' };
  return { fault: 'failed', reason: code ?? (error instanceof Error ? error.message : String(error)) };
}

/** To the end, whatever size was told; undefined where there is more than `most`. */
function readOn(handle: number, expected: number, most: number): Uint8Array | undefined {
  const chunks: Uint8Array[] = [];
  let size = 0;
  // One octet more than expected, so that the end is met in the first piece.
  let room = Math.max(expected + 1, 65_536);
  while (true) {
    const chunk = new Uint8Array(Math.min(room, most + 1 - size));
    const got = readSome(handle, chunk);
    if (got === 0) return chunks.length === 1 && chunks[0] !== undefined ? chunks[0] : Buffer.concat(chunks, size);
    chunks.push(chunk.subarray(0, got));
    size += got;
    if (size > most) return undefined;
    room = 1_048_576;
  }
}

function readSome(handle: number, into: Uint8Array): number {
  while (true) {
    try {
      return readSync(handle, into);
    } catch (error) {
      const code = codeOf(error);
      if (code === 'EOF') return 0;
      // Somebody has set this end of the pipe not to wait, and nothing has come yet.
      if (code !== 'EAGAIN') throw error;
      pause(5);
    }
  }
}
