/** One new file, flushed to disk, that keeps the mode and the owner of the one it takes the place of. */
import { codeOf, type Calls } from './calls.js';
import { dirname } from './places.js';
import { keepFolder } from './settle.js';
import type { Present, Target, TargetFault } from './target.js';

export function writePart(part: string, { name, bytes, present }: Target, calls: Calls): TargetFault | undefined {
  try {
    writeFlushed(part, bytes, present, calls);
    return undefined;
  } catch (error) {
    if (error instanceof NotOwner) return { kind: 'owner', name };
    throw error;
  }
}

class NotOwner extends Error {}

/** Writes a new file to disk, with mode and owner of the one it takes the place of. */
export function writeFlushed(path: string, bytes: Uint8Array, like: Present | undefined, calls: Calls): void {
  const handle = calls.openSync(path, 'wx', like === undefined ? 0o666 : 0o600);
  try {
    for (let at = 0; at < bytes.length;) at += calls.writeSync(handle, bytes, at, bytes.length - at);
    if (like !== undefined) {
      if (like.uid !== process.geteuid?.() || like.gid !== process.getegid?.()) {
        try {
          // Windows has no owners of this kind.
          if (process.geteuid !== undefined) calls.fchownSync(handle, like.uid, like.gid);
        } catch {
          throw new NotOwner();
        }
      }
      calls.fchmodSync(handle, like.mode);
    }
    calls.fsyncSync(handle);
  } finally {
    calls.closeSync(handle);
  }
}

/** Makes a folder and those above it; those that were not there are remembered, the uppermost first. */
export function makeFolder(folder: string, made: string[], calls: Calls): void {
  try {
    calls.mkdirSync(folder);
    made.push(folder);
    keepFolder(dirname(folder), calls);
  } catch (error) {
    const code = codeOf(error);
    if (code === 'ENOENT' && dirname(folder) !== folder) {
      makeFolder(dirname(folder), made, calls);
      makeFolder(folder, made, calls);
      return;
    }
    if (code !== 'EEXIST' || !calls.statSync(folder).isDirectory()) throw error;
  }
}
