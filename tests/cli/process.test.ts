/**
 * What only a process shows: that the built program starts and ends with its exit code, what a pipe that closes does to
 * it, and its questions at a real terminal, which Python's `pty` module plays. All else is tested in one process.
 */
import { spawnSync } from 'node:child_process';
import { mkdtempSync, readdirSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterAll, beforeAll, beforeEach, describe, expect, it } from 'vitest';
import { built } from '../tools/built.js';

const TYPE_LINES = fileURLToPath(new URL('../tools/type-lines.py', import.meta.url));
const HAS_PTY = spawnSync('python3', ['-c', 'import pty']).status === 0;
let main = '';
let base = '';
let folder = '';

beforeAll(() => {
  main = built('program/cli/main.js');
  base = mkdtempSync(join(tmpdir(), 'rigproof-process-'));
});
beforeEach(() => {
  folder = mkdtempSync(join(base, 'case-'));
});
afterAll(() => {
  rmSync(base, { recursive: true, force: true });
});

describe('the built program', () => {
  it('reads standard input, writes to its streams, and ends with its exit code', () => {
    const input = 'name,group,port\na,239.10.1.1,5004\nb,239.10.1.1,5004\n';
    const found = spawnSync(process.execPath, [main, 'lint', '-'], { cwd: folder, encoding: 'utf8', input });
    expect([found.status, found.stderr]).toEqual([1, '']);
    expect(found.stdout).toContain('<stdin>');
    const refused = spawnSync(process.execPath, [main, 'lint', 'nowhere.yaml', '--profile', 'nowhere.yaml'], {
      cwd: folder,
      encoding: 'utf8',
    });
    expect([refused.status, refused.stdout]).toEqual([2, '']);
    expect(refused.stderr).toContain('rigproof: nowhere.yaml');
  });

  it('takes a reader that stops early for no failure', () => {
    // The reader is gone before the program writes; the program's own exit code comes out beside it.
    const line = '{ { "$0" "$1" rules; echo $? >&3; } | true; } 3>&1';
    const { stdout, stderr } = spawnSync('sh', ['-c', line, process.execPath, main], { encoding: 'utf8' });
    expect([stdout, stderr]).toEqual(['0\n', '']);
  });
});

describe.skipIf(!HAS_PTY)('on a terminal (needs python3 with its pty module)', () => {
  /** What a terminal showed, without its commands, and the exit code. */
  function type(lines: readonly string[]): { readonly code: number; readonly shown: string } {
    const words = [TYPE_LINES, JSON.stringify(lines), process.execPath, main, 'allocate', '--ask'];
    const { stdout, stderr } = spawnSync('python3', words, { cwd: folder, encoding: 'utf8' });
    expect(stderr).toBe('');
    const { code, shown } = JSON.parse(stdout) as { readonly code: number; readonly shown: string };
    return { code, shown: shown.replace(/\u001b\[[\d;]*[A-Za-z]/g, '').replaceAll('\r', '') };
  }

  it('asks line by line and writes the request', () => {
    const { code, shown } = type([
      'Sanderling',
      'Kestrel Bay',
      'island',
      '2 clocks, 3 cameras',
      '',
      '2',
      '',
      '',
      '',
      '',
      '',
    ]);
    expect([code, readdirSync(folder)]).toEqual([0, ['sanderling-request.yaml']]);
    expect(readFileSync(join(folder, 'sanderling-request.yaml'), 'utf8')).toContain('rig: Sanderling');
    expect(shown).toContain('[10.20.0.0/14]');
    expect(shown).toContain('sanderling-request.yaml is written.');
  });

  it.each([
    ['Ctrl-C', '\u0003'],
    ['Ctrl-D', '\u0004'],
  ])('left with %s it writes nothing and says so', (_, key) => {
    const { code, shown } = type(['Sanderling', key]);
    expect([code, readdirSync(folder)]).toEqual([2, []]);
    expect(shown).toContain('nothing is written');
  });
});
