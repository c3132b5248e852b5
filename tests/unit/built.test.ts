/** Tests that start the built program say so when it is not built from the sources as they are. */
import { mkdirSync, mkdtempSync, rmSync, utimesSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { newerSource } from '../tools/built.js';

let root = '';

beforeAll(() => {
  root = mkdtempSync(join(tmpdir(), 'rigproof-built-'));
});
afterAll(() => {
  rmSync(root, { recursive: true, force: true });
});

function write(path: string, second: number): void {
  mkdirSync(dirname(join(root, path)), { recursive: true });
  writeFileSync(join(root, path), '');
  utimesSync(join(root, path), second, second);
}

it('a source written after the build is named, whatever else is new is not', () => {
  const sources = ['src/cli/main.ts', 'rules/groups/floods/rule.ts', 'schemas/plan.schema.json'];
  for (const path of [...sources, 'dist/program/cli/main.js']) write(path, 1000);
  for (const path of ['rules/groups/floods/bad.yaml', 'rules/groups/floods/README.md']) write(path, 2000);
  expect(newerSource(root)).toBeUndefined();
  for (const path of sources) {
    write(path, 2000);
    expect(newerSource(root)).toBe(path);
    write(path, 1000);
  }
});
