/** Files and folders as inputs. */
import { append } from '../collections/group-by.js';
import { CALLS, pause } from '../disk/calls.js';
import { Busy, writerOf } from '../disk/lock.js';
import {
  dirname,
  exists as isThere,
  isAbsolute,
  join,
  liesWithin,
  realFolders,
  realPath,
  resolve,
} from '../disk/places.js';
import { readStandardInput, readWhole, type Opened, type ReadFault } from '../disk/read.js';
import { hasLeftovers, pendingIn, settleFolder } from '../disk/settle.js';
import { sameStamp, stampAt } from '../disk/stamp.js';
import { isFolder, walk } from '../disk/walk.js';
import type { Inputs } from '../plan/load.js';
import { inputOf, readerByName, type Input } from '../read/index.js';
import { usualEndings } from '../read/readers.js';
import type { Location } from '../source/document.js';
import type { Problem } from '../source/problem.js';
import { faultProblem, fileProblem, wordsOf } from './file-words.js';
import { createLedger, type Ledger } from './ledger.js';

/** Where paths lead; left out, where this process stands. */
export interface CallOptions {
  readonly stdinFormat?: string | undefined;
  readonly cwd?: string;
  /** At most so many octets, or why there are none. */
  readonly stdin?: { read(most: number): Uint8Array | ReadFault };
  /** What else this call has read, and what it may. */
  readonly ledger?: Ledger;
  /** Files that other inputs have, by identity: none of these may be one of them. */
  readonly taken?: Map<string, string>;
  /** The paths stand in a file, and lead no further than it may. */
  readonly said?: SaidIn;
}

/** Where a file names others. */
export interface SaidIn {
  readonly file: string;
  /** Where in it, path by path. */
  readonly at: (index: number) => Location;
}

export const STDIN_NAME = '<stdin>';

/**
 * The inputs behind paths, each file once, however often and by whatever name it is given. A folder stands for every file
 * below it whose ending a reader takes, in order of name; links are followed; hidden files and `node_modules` are passed
 * over. `-` is standard input. Where a writing was cut off, or goes on, nothing is read past it: it is a problem.
 */
export function readInputs(paths: readonly string[], given: CallOptions = {}): Inputs {
  const options = { ...given, stdin: once(given.stdin ?? { read: readStandardInput }) };
  // Somebody may write while this reads: files of two states are not one plan.
  for (let tries = 1; ; tries++) {
    const reading = readOnce(paths, options);
    const unsteady = [...reading.opened].find(([path, { stamp }]) => {
      const now = stampAt(path);
      return now === undefined || !sameStamp(now, stamp);
    });
    if (unsteady === undefined) {
      const cut = cutOff(reading, options);
      if (cut === undefined) return taken(reading, options);
      if (cut === 'again' && tries < MOST_TRIES) continue;
      return { inputs: [], problems: cut === 'again' ? [changing(paths[0] ?? '')] : [cut] };
    }
    if (tries >= MOST_TRIES) return { inputs: [], problems: [changing(unsteady[1].name)] };
    pause(BETWEEN_TRIES_MS);
  }
}

/** What is typed or piped comes but once, however often files are read again. */
function once(stdin: NonNullable<CallOptions['stdin']>): NonNullable<CallOptions['stdin']> {
  let read: Uint8Array | ReadFault | undefined;
  return { read: (most) => (read ??= stdin.read(most)) };
}

const MOST_TRIES = 20;
const BETWEEN_TRIES_MS = 100;

/** One file as an input, or why it can't be one. */
export function readInput(path: string, options: CallOptions = {}): Input | Problem {
  const { inputs, problems } = readInputs([path], options);
  const [problem] = problems;
  if (problem !== undefined) return problem;
  const [input, second] = inputs;
  if (input !== undefined && second === undefined) return input;
  return fileProblem(path, 'this is a folder of several files', 'name one of them');
}

/** Whether a path leads anywhere. */
export function exists(path: string, { cwd = '' }: CallOptions = {}): boolean {
  return isThere(resolve(cwd, path));
}

/** A path that a file says, as seen from where the file lies. */
export function besides(file: string, path: string): string {
  return file === '-' || isAbsolute(path) ? path : join(dirname(file), path);
}

/** Why a path that a file says leads too far; undefined where it does not. */
export function tooFar(file: string, path: string, { cwd = '', ledger }: CallOptions): string | undefined {
  const real = realPath(resolve(cwd, path));
  const roots = [...realFolders(cwd, [file === '-' ? '.' : dirname(file)]), ...realFolders(cwd, ledger?.reach ?? [])];
  return real === undefined || liesWithin(real, roots) ? undefined : real;
}

/** What keeps a file from being read, in words; undefined where nothing does. */
export function faultAt(path: string, { cwd = '', ledger }: CallOptions): string | undefined {
  const read = readWhole(resolve(cwd, path), (ledger ?? createLedger()).mostBytes);
  return 'fault' in read ? wordsOf(read)[0] : undefined;
}

interface ReadOne extends Opened {
  readonly name: string;
  readonly asked: string;
}

interface Reading {
  readonly inputs: readonly Input[];
  readonly problems: readonly Problem[];
  /** By where each lies. */
  readonly opened: ReadonlyMap<string, ReadOne>;
}

function readOnce(
  paths: readonly string[],
  options: CallOptions & { readonly stdin: NonNullable<CallOptions['stdin']> },
): Reading {
  const { cwd = '', stdin, stdinFormat, said, ledger = createLedger() } = options;
  const inputs: Input[] = [];
  const problems: Problem[] = [];
  const opened = new Map<string, ReadOne>();
  const seen = new Set<string>();
  paths.forEach((asked, index) => {
    const add = (problem: Problem): void => {
      problems.push(said === undefined ? problem : saidProblem(asked, problem, said.at(index)));
    };
    const take = (name: string, bytes: Uint8Array, format?: string): void => {
      const input = inputOf(name, bytes, format);
      if ('at' in input) add(input);
      else inputs.push(input);
    };
    if (asked === '-') {
      if (seen.has(asked)) return;
      seen.add(asked);
      const read = stdin.read(ledger.mostBytes);
      if ('fault' in read) add(faultProblem(STDIN_NAME, read));
      else if (read.length > ledger.mostBytes)
        add(faultProblem(STDIN_NAME, { fault: 'large', most: ledger.mostBytes }));
      else take(STDIN_NAME, read, stdinFormat);
      return;
    }
    // Not even the names of what lies there are anybody's business.
    if (said !== undefined && tooFar(said.file, asked, options) !== undefined) {
      add(beyond(asked));
      return;
    }
    for (const name of filesBehind(asked, cwd, add)) {
      if (said !== undefined && tooFar(said.file, name, options) !== undefined) {
        add(beyond(name));
        continue;
      }
      const read = readWhole(resolve(cwd, name), ledger.mostBytes);
      if ('fault' in read) {
        add(faultProblem(name, read));
        continue;
      }
      const key = read.stamp.identity === '' ? read.real : read.stamp.identity;
      if (seen.has(key)) continue;
      seen.add(key);
      opened.set(read.real, { ...read, name, asked });
      take(name, read.bytes);
    }
  });
  return { inputs, problems, opened };
}

/** All that was read is entered; what another input has already is a problem. */
function taken({ inputs, problems, opened }: Reading, { ledger, taken: others }: CallOptions): Inputs {
  const double: Problem[] = [];
  const twice = new Map<string, { readonly name: string; readonly other: string }[]>();
  for (const [real, { name, asked, stamp }] of opened) {
    const key = stamp.identity === '' ? real : stamp.identity;
    const other = others?.get(key);
    if (other !== undefined) append(twice, asked, { name, other });
    others?.set(key, name);
    ledger?.files.set(key, { name, asked, stamp });
  }
  for (const [asked, files] of twice)
    double.push(
      fileProblem(
        asked,
        `what is given here is given already: ${files.map(({ name, other }) => (name === other ? name : `${name} is ${other}`)).join(', ')}`,
        'give each file to one rig alone',
      ),
    );
  if (others !== undefined && inputs.some(({ name }) => name === STDIN_NAME)) {
    if (others.has(STDIN_NAME))
      double.push(fileProblem(STDIN_NAME, 'standard input is given twice', 'write one of the two into a file'));
    others.set(STDIN_NAME, STDIN_NAME);
  }
  return { inputs, problems: [...problems, ...double] };
}

/** A writing in one of the folders that was cut off: a problem, or `again` once it is over. */
function cutOff({ opened }: Reading, { cwd = '', ledger }: CallOptions): Problem | 'again' | undefined {
  for (const folder of new Set([...opened.keys()].map(dirname))) {
    try {
      const pending = pendingIn(folder, CALLS);
      if (pending === undefined) {
        if (ledger?.settles === true && hasLeftovers(folder, CALLS)) settleFolder(folder, SETTLE_PATIENCE_MS, CALLS);
        continue;
      }
      if (writerOf(folder, CALLS) !== undefined) {
        pause(BETWEEN_TRIES_MS);
        return 'again';
      }
      const names = (pending.files ?? []).map((path) => seenFrom(path, cwd));
      if (ledger?.settles === true) {
        const settled = settleFolder(folder, SETTLE_PATIENCE_MS, CALLS);
        if (settled.every(({ kind }) => kind !== 'stuck')) {
          for (const { kind, files } of settled)
            ledger.settled.push(
              `${kind === 'finished' ? 'finished' : 'took back'} a writing that was cut off: ${files.map((one) => seenFrom(one, cwd)).join(', ')}`,
            );
          return 'again';
        }
      }
      return fileProblem(
        seenFrom(pending.journal, cwd),
        names.length === 0
          ? "a writing of several files was cut off here, and what it wrote can't be told"
          : `${names.length} files here were being written when the program was stopped, so some may be old and some new: ${names.join(', ')}`,
        `\`rigproof settle ${seenFrom(folder, cwd)}\` finishes it, or takes it back`,
      );
    } catch (error) {
      // A folder that can't be listed has no writer of ours.
      if (error instanceof Busy) return 'again';
    }
  }
  return undefined;
}

const SETTLE_PATIENCE_MS = 10_000;

/** A path as seen from where the user stands, where it lies below. */
export function seenFrom(path: string, cwd: string): string {
  const here = realPath(cwd === '' ? '.' : cwd);
  return here !== undefined && path.startsWith(`${here}/`) ? path.slice(here.length + 1) : path;
}

function filesBehind(path: string, cwd: string, add: (problem: Problem) => void): readonly string[] {
  const folder = isFolder(resolve(cwd, path));
  if (typeof folder === 'object') {
    add(faultProblem(path, folder));
    return [];
  }
  if (!folder) return [path];
  const { files, faults } = walk(path, resolve(cwd, path), (name) => readerByName(name) !== undefined);
  for (const { path: where, fault } of faults) add(faultProblem(where, fault));
  if (files.length === 0 && faults.length === 0)
    add(fileProblem(path, 'there is no plan in this folder', `put ${usualEndings()} files in it`));
  return files;
}

function beyond(path: string): Problem {
  return fileProblem(
    path,
    'this leads out of the folder of the file that names it',
    'put a copy beside that file, or allow the folder: `--reach FOLDER`',
  );
}

/** A fault of a file that another names, told where it is named: nothing is said of what is in it. */
function saidProblem(asked: string, { at: { file }, what, instead }: Problem, at: Location): Problem {
  return { at, what: `${file === asked ? `\`${asked}\`` : `\`${file}\` in \`${asked}\``}: ${what}`, instead };
}

function changing(file: string): Problem {
  return fileProblem(file, 'this is being changed while it is read', 'wait until nobody writes it, then try again');
}
