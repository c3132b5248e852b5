/** Files and folders as inputs. */
import { existsSync, readdirSync, readFileSync, statSync } from 'node:fs';
import { dirname, isAbsolute, join, resolve } from 'node:path';

import { startOf } from '../source/locate.js';
import type { Inputs } from '../plan/load.js';
import type { Problem } from '../source/problem.js';
import { inputOf, readerByName, type Input } from '../read/index.js';
import { usualEndings } from '../read/readers.js';

/** Where paths lead; left out, where this process stands. */
export interface InputOptions {
  readonly stdinFormat?: string | undefined;
  readonly cwd?: string;
  readonly stdin?: { read(): Uint8Array };
}

export const STDIN_NAME = '<stdin>';

/**
 * The inputs behind paths. A folder stands for every file below it whose ending a reader takes, in order of name;
 * hidden files and `node_modules` are passed over. `-` is standard input.
 */
export function readInputs(paths: readonly string[], options: InputOptions = {}): Inputs {
  const inputs: Input[] = [];
  const problems: Problem[] = [];
  const seen = new Set<string>();
  const { cwd = '', stdin = { read: () => readFileSync(0) }, stdinFormat } = options;
  const bytesOf = (path: string): Uint8Array => (path === '-' ? stdin.read() : readFileSync(resolve(cwd, path)));
  for (const path of paths) {
    const files = path === '-' ? [path] : filesBehind(path, cwd, problems);
    for (const file of files) {
      if (seen.has(file)) continue;
      seen.add(file);
      const input = readOne(file, file === '-' ? stdinFormat : undefined, bytesOf, problems);
      if (input !== undefined) inputs.push(input);
    }
  }
  return { inputs, problems };
}

/** One file as an input, or why it can't be one. */
export function readInput(path: string, options: InputOptions = {}): Input | Problem {
  const { inputs, problems } = readInputs([path], options);
  const [problem] = problems;
  if (problem !== undefined) return problem;
  const [input, second] = inputs;
  if (input !== undefined && second === undefined) return input;
  return fileProblem(path, 'this is a folder of several files', 'name one of them');
}

/** Whether a path leads anywhere. */
export function exists(path: string, { cwd = '' }: InputOptions = {}): boolean {
  return existsSync(resolve(cwd, path));
}

/** A path that a file says, as seen from where the file lies. */
export function besides(file: string, path: string): string {
  return file === '-' || isAbsolute(path) ? path : join(dirname(file), path);
}

function filesBehind(path: string, cwd: string, problems: Problem[]): readonly string[] {
  try {
    if (!statSync(resolve(cwd, path)).isDirectory()) return [path];
    const files = below(path, cwd);
    if (files.length === 0)
      problems.push(fileProblem(path, 'there is no plan in this folder', `put ${usualEndings()} files in it`));
    return files;
  } catch (error) {
    problems.push(fileProblem(path, reason(error), 'check the path'));
    return [];
  }
}

function below(folder: string, cwd: string): readonly string[] {
  const entries = readdirSync(resolve(cwd, folder), { withFileTypes: true })
    .filter((entry) => !entry.name.startsWith('.') && entry.name !== 'node_modules')
    .sort((a, b) => (a.name < b.name ? -1 : a.name > b.name ? 1 : 0));
  return entries.flatMap((entry) => {
    const path = join(folder, entry.name);
    if (entry.isDirectory()) return below(path, cwd);
    return entry.isFile() && readerByName(entry.name) !== undefined ? [path] : [];
  });
}

function readOne(
  path: string,
  format: string | undefined,
  bytesOf: (path: string) => Uint8Array,
  problems: Problem[],
): Input | undefined {
  const name = path === '-' ? STDIN_NAME : path;
  try {
    const input = inputOf(name, bytesOf(path), format);
    if (!('at' in input)) return input;
    problems.push(input);
  } catch (error) {
    problems.push(fileProblem(name, reason(error), 'check the path and your right to read it'));
  }
  return undefined;
}

function reason(error: unknown): string {
  const code = error instanceof Error && 'code' in error ? error.code : undefined;
  if (code === 'ENOENT') return 'there is no such file or folder';
  if (code === 'EACCES' || code === 'EPERM') return 'this may not be read';
  if (code === 'ERR_FS_FILE_TOO_LARGE') return 'this file is too large to read in one piece';
  return `this can't be read (${typeof code === 'string' ? code : String(error)})`;
}

function fileProblem(file: string, what: string, instead: string): Problem {
  return { at: startOf(file), what, instead };
}
