/**
 * One writer a folder. Each makes a lock of its own name and then looks whether there is another: of two at once at least
 * one sees the other, so no two go on. What a lock says stands in its name, so that no half-written one can be met, and a
 * lock whose process has ended is taken away by its name, which nobody else ever has.
 */
import { createHash, randomBytes } from 'node:crypto';
import { readFileSync, readlinkSync } from 'node:fs';
import { hostname } from 'node:os';
import { codeOf, pause, type Calls } from './calls.js';
import { LOCK } from './names.js';
import { join } from './places.js';

/** Somebody else is writing there. */
export class Busy extends Error {
  readonly folder: string;
  /** Undefined where it runs on another computer. */
  readonly pid: number | undefined;

  constructor(folder: string, pid: number | undefined) {
    super(`${folder} is being written to`);
    this.folder = folder;
    this.pid = pid;
  }
}

/** Of another computer nobody can tell whether it still runs; no writing takes this long. */
const MOST_FOREIGN_MS = 600_000;

/** Locks folders, waiting up to `patience` milliseconds; the function returned gives them back. Throws `Busy`. */
export function lockFolders(folders: readonly string[], patience: number, calls: Calls): () => void {
  const held: string[] = [];
  const release = (): void => {
    for (const lock of held.splice(0)) {
      try {
        calls.unlinkSync(lock);
      } catch {
        // Whoever looks next finds that its process has ended.
      }
    }
  };
  try {
    // In one order, so that no two wait for each other.
    for (const folder of [...new Set(folders)].sort()) held.push(lockFolder(folder, patience, calls));
    return release;
  } catch (error) {
    release();
    throw error;
  }
}

/** The process that is writing into a folder; undefined where none is. */
export function writerOf(folder: string, calls: Calls): { readonly pid: number | undefined } | undefined {
  return calls
    .readdirSync(folder)
    .map((name) => holderOf(folder, name, calls))
    .find((holder) => holder !== undefined && holder !== 'gone');
}

function lockFolder(folder: string, patience: number, calls: Calls): string {
  for (let waited = 0; ;) {
    const name = `${LOCK}${process.pid}-${myself()}-${randomBytes(6).toString('hex')}`;
    const lock = join(folder, name);
    calls.closeSync(calls.openSync(lock, 'wx'));
    let other: ReturnType<typeof holderOf>;
    for (const one of calls.readdirSync(folder)) {
      if (one === name) continue;
      const holder = holderOf(folder, one, calls);
      if (holder === 'gone') remove(join(folder, one), calls);
      else other ??= holder;
    }
    if (other === undefined) return lock;
    remove(lock, calls);
    if (waited >= patience) throw new Busy(folder, other === 'gone' ? undefined : other.pid);
    // Not at one pace with the other.
    const pace = 20 + Math.floor(Math.random() * 60);
    pause(pace);
    waited += pace;
  }
}

function remove(path: string, calls: Calls): void {
  try {
    calls.unlinkSync(path);
  } catch (error) {
    if (codeOf(error) !== 'ENOENT') throw error;
  }
}

/** Who holds a lock of this name; `gone` where its process has ended; undefined where it is no lock. */
function holderOf(
  folder: string,
  name: string,
  calls: Calls,
): { readonly pid: number | undefined } | 'gone' | undefined {
  const match = /^(\d+)-([0-9a-f]+)-([0-9a-f]+)-([0-9a-f]+)-(\d+)-/.exec(name.slice(LOCK.length));
  if (!name.startsWith(LOCK) || match === null) return undefined;
  const [, pid = '', host, boot, space, start = ''] = match;
  const mine = where();
  if (host !== mine.host) return isOld(join(folder, name), calls) ? 'gone' : { pid: undefined };
  if (boot !== mine.boot) return 'gone';
  if (space !== mine.space) return isOld(join(folder, name), calls) ? 'gone' : { pid: undefined };
  return runs(Number(pid), start) ? { pid: Number(pid) } : 'gone';
}

function isOld(path: string, calls: Calls): boolean {
  try {
    return Date.now() - calls.statSync(path).mtimeMs > MOST_FOREIGN_MS;
  } catch {
    return true;
  }
}

/** Whether the process that had this number then has it still. */
function runs(pid: number, start: string): boolean {
  try {
    process.kill(pid, 0);
  } catch (error) {
    // Another user's process may not be asked, but it is there.
    if (codeOf(error) !== 'EPERM') return false;
  }
  const now = startOf(pid);
  return start === '0' || now === '0' || now === start;
}

function myself(): string {
  const { host, boot, space } = where();
  return `${host}-${boot}-${space}-${startOf(process.pid)}`;
}

/** This computer, since when it runs, and whose process numbers these are: two containers each have a process 7. */
function where(): { readonly host: string; readonly boot: string; readonly space: string } {
  return {
    host: short(hostname()),
    boot: short(read(() => readFileSync('/proc/sys/kernel/random/boot_id', 'utf8'))),
    space: short(read(() => readlinkSync('/proc/self/ns/pid'))),
  };
}

/** When a process began, in the system's own count; `0` where the system does not say. */
function startOf(pid: number): string {
  const stat = read(() => readFileSync(`/proc/${pid}/stat`, 'utf8'));
  // The second field is a name that may hold anything, in brackets; the start is the 22nd (proc(5)).
  return stat.slice(stat.lastIndexOf(')') + 2).split(' ')[19] ?? '0';
}

function read(from: () => string): string {
  try {
    return from();
  } catch {
    return '';
  }
}

function short(text: string): string {
  return createHash('sha256').update(text).digest('hex').slice(0, 8);
}
