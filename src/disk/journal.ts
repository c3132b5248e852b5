/**
 * What several files become, so that all of them do or none. The journal of the first folder holds it all, and that it is
 * there settles that it will be done; those of the other folders only say where it is. All paths are as seen from the
 * journal, so that it holds wherever the folders are carried.
 */
import { createHash } from 'node:crypto';
import { codeOf, type Calls } from './calls.js';
import { isJournal, isLeftover } from './names.js';
import { basename, dirname, join, relative, resolve } from './places.js';

export interface JournalFile {
  readonly to: string;
  readonly part: string;
  /** A copy of what was there; absent where nothing was. */
  readonly old?: string | undefined;
  readonly newDigest: string;
  readonly oldDigest?: string | undefined;
}

export interface Journal {
  readonly path: string;
  readonly files: readonly JournalFile[];
  /** All folders that have a journal of this writing, the one of `path` first. */
  readonly journals: readonly string[];
}

/** A journal that can't be read: somebody has changed it. */
export interface Illegible {
  readonly path: string;
  readonly files: undefined;
}

export function digestOf(bytes: Uint8Array): string {
  return createHash('sha256').update(bytes).digest('hex');
}

/** The digest of a file; undefined where there is none. */
export function digestAt(path: string, calls: Calls): string | undefined {
  try {
    return digestOf(calls.readFileSync(path));
  } catch (error) {
    const code = codeOf(error);
    if (code === 'ENOENT' || code === 'ENOTDIR') return undefined;
    throw error;
  }
}

/** As the journal says it. */
export function journalText({ path, files, journals }: Journal): string {
  const from = dirname(path);
  const way = (other: string): string => relative(from, other);
  return `${JSON.stringify(
    {
      rigproofJournal: 1,
      files: files.map((one) => ({
        ...one,
        to: way(one.to),
        part: way(one.part),
        ...(one.old === undefined ? {} : { old: way(one.old) }),
      })),
      journals: journals.map(way),
    },
    undefined,
    1,
  )}\n`;
}

export function pointerText(path: string, journal: Journal): string {
  return `${JSON.stringify({ rigproofJournal: 1, at: relative(dirname(path), journal.path) })}\n`;
}

/** Journals in a folder: what they lead to, or nothing where that is settled already. */
export function journalsIn(folder: string, calls: Calls): readonly string[] {
  return calls
    .readdirSync(folder)
    .filter(isJournal)
    .sort()
    .map((name) => join(folder, name));
}

/** The whole journal that one in a folder stands for; undefined where there is nothing left to do. */
export function openJournal(path: string, calls: Calls): Journal | Illegible | undefined {
  const said = parsed(path, calls);
  if (said === undefined) return undefined;
  if (!isRecord(said) || said['rigproofJournal'] !== 1) return { path, files: undefined };
  const { at, files, journals } = said;
  if (typeof at === 'string') {
    const main = resolve(dirname(path), at);
    // One that points to another that points on is none that this program wrote.
    const whole = main === path ? undefined : parsed(main, calls);
    if (whole === undefined) return main === path ? { path, files: undefined } : undefined;
    return isRecord(whole) && typeof whole['at'] !== 'string'
      ? openJournal(main, calls)
      : { path: main, files: undefined };
  }
  if (!isList(files, isFile) || !isList(journals, (one) => typeof one === 'string')) return { path, files: undefined };
  const from = dirname(path);
  const journal = {
    path,
    files: files.map((one) => ({
      ...one,
      to: resolve(from, one.to),
      part: resolve(from, one.part),
      ...(one.old === undefined ? {} : { old: resolve(from, one.old) }),
    })),
    journals: journals.map((one) => resolve(from, one)),
  };
  return isOwn(journal, calls) ? journal : { path, files: undefined };
}

/**
 * Whether this program has written it. A folder from elsewhere may bring a journal that would write over files anywhere:
 * it holds for folders alone that have a journal which says so too, and for files of the writer's own beside its targets.
 */
function isOwn({ path, files, journals }: Journal, calls: Calls): boolean {
  const agree = journals.every((one) => {
    if (one === path) return true;
    const said = parsed(one, calls);
    return isRecord(said) && typeof said['at'] === 'string' && resolve(dirname(one), said['at']) === path;
  });
  const folders = new Set(journals.map(dirname));
  return (
    agree &&
    journals.includes(path) &&
    journals.every((one) => isJournal(basename(one))) &&
    files.every(({ to, part, old }) => {
      const folder = dirname(to);
      return (
        folders.has(folder) && [part, old ?? part].every((own) => dirname(own) === folder && isLeftover(basename(own)))
      );
    })
  );
}

function parsed(path: string, calls: Calls): unknown {
  let text: string;
  try {
    text = calls.readFileSync(path, 'utf8');
  } catch (error) {
    const code = codeOf(error);
    if (code === 'ENOENT' || code === 'ENOTDIR') return undefined;
    throw error;
  }
  try {
    return JSON.parse(text) as unknown;
  } catch {
    return 'illegible';
  }
}

function isFile(value: unknown): value is JournalFile {
  if (!isRecord(value)) return false;
  const { to, part, old, newDigest, oldDigest } = value;
  return (
    [to, part, newDigest].every((one) => typeof one === 'string') &&
    [old, oldDigest].every((one) => one === undefined || typeof one === 'string')
  );
}

function isList<T>(value: unknown, is: (one: unknown) => one is T): value is readonly T[] {
  return Array.isArray(value) && value.every(is);
}

function isRecord(value: unknown): value is Readonly<Record<string, unknown>> {
  return typeof value === 'object' && value !== null;
}
