/** The line that shows that a command works, at a real terminal, which Python's `pty` module plays. */
import { spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { built } from '../tools/built.js';

const TYPE_LINES = fileURLToPath(new URL('../tools/type-lines.py', import.meta.url));
const HAS_PTY = spawnSync('python3', ['-c', 'import pty']).status === 0;
const WORDS = ['lint', 'plan.yaml', '--convention-rules', 'slow.mjs'];
/** A rule that takes 2.5 s and finds nothing. */
const SLOW = `export default { id: 'our/slow', summary: 'takes its time', severity: 'note',
  sources: [{ practice: 'none' }], needs: [], words: () => ({ what: '', onAir: '', fix: '' }),
  *check() { Atomics.wait(new Int32Array(new SharedArrayBuffer(4)), 0, 0, 2500); } };`;
let main = '';
let folder = '';

beforeAll(() => {
  main = built('program/cli/main.js');
  folder = mkdtempSync(join(tmpdir(), 'rigproof-progress-'));
  writeFileSync(join(folder, 'slow.mjs'), SLOW);
  writeFileSync(join(folder, 'plan.yaml'), 'vlans: [{name: red, id: 210}]\n');
});
afterAll(() => {
  rmSync(folder, { recursive: true, force: true });
});

/** What a terminal showed, and the exit code. */
function onTerminal(type: string): { readonly code: number; readonly shown: string } {
  const { stdout, stderr } = spawnSync('python3', [TYPE_LINES, '[]', process.execPath, main, ...WORDS], {
    cwd: folder,
    encoding: 'utf8',
    env: { ...process.env, TERM: type },
  });
  expect(stderr).toBe('');
  return JSON.parse(stdout) as { readonly code: number; readonly shown: string };
}

describe('work of more than a second', () => {
  it.skipIf(!HAS_PTY)(
    '(needs python3 with its pty module) shows its seconds, erased before anything else is said',
    () => {
      const { code, shown } = onTerminal('xterm');
      expect(code).toBe(0);
      const [line = '', report = ''] = shown.split('\r\u001b[K');
      expect(line).toMatch(/^(\rrigproof: working, \d s)+$/);
      expect(report).toContain('Verdict');
      expect(report).not.toContain('working');
    },
  );

  it.skipIf(!HAS_PTY)('(needs python3 with its pty module) shows nothing where the terminal takes no such line', () => {
    const { code, shown } = onTerminal('dumb');
    expect(code).toBe(0);
    expect(shown).toContain('Verdict');
    expect(shown).not.toContain('working');
  });

  it('shows nothing in a pipe', () => {
    const piped = spawnSync(process.execPath, [main, ...WORDS], { cwd: folder, encoding: 'utf8' });
    expect([piped.status, piped.stderr]).toEqual([0, '']);
    expect(piped.stdout).toContain('Verdict');
  });
});
