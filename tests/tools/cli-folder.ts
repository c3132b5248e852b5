/** A folder of a test file's own that its command lines run in. */
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterAll, beforeAll } from 'vitest';
import { run as runProgram, type Run, type RunOptions } from '../tools/run-program.js';

export const ROOT = fileURLToPath(new URL('../..', import.meta.url));
export const CLASH = join(ROOT, 'rules/groups/two-senders/bad.yaml');
export const CLEAN = join(ROOT, 'rules/groups/two-senders/good.yaml');
export let folder = '';

/** Every file asks for its own: files share a worker, which loads this module once. */
export function inOwnFolder(): void {
  beforeAll(() => {
    folder = mkdtempSync(join(tmpdir(), 'rigproof-cli-'));
  });
  afterAll(() => {
    rmSync(folder, { recursive: true, force: true });
  });
}

export function run(words: readonly string[], options: RunOptions = {}): Promise<Run> {
  return runProgram(words, { cwd: folder, ...options });
}

export function file(name: string, text: string): string {
  const path = join(folder, name);
  writeFileSync(path, text);
  return path;
}
