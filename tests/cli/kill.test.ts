/**
 * The program itself, killed while it writes, writing onto a full disk, and twice at once. What happens at each single call
 * to the system `tests/unit/disk-writes.slow.test.ts` tries; this shows that a process ends the same way.
 */
import { spawn, spawnSync, type ChildProcess } from 'node:child_process';
import { existsSync, mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, watch, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { built } from '../tools/built.js';
import { IN_PLACE, layRigs } from '../tools/rigs-in-place.js';

let main = '';
let base = '';
let old: ReadonlyMap<string, string> = new Map();
let now: ReadonlyMap<string, string> = new Map();

beforeAll(() => {
  main = built('program/cli/main.js');
  base = mkdtempSync(join(tmpdir(), 'rigproof-kill-'));
  const at = copied();
  old = texts(at);
  expect(merged(at).status).toBe(0);
  now = texts(at);
  expect([...now].filter(([name, text]) => old.get(name) !== text).length).toBeGreaterThan(2);
});
afterAll(() => {
  rmSync(base, { recursive: true, force: true });
});

/** A copy in a folder of its own. */
function copied(at = mkdtempSync(join(base, 'case-'))): string {
  layRigs(at);
  return at;
}

function merged(
  cwd: string,
  words: readonly string[] = IN_PLACE,
): { readonly status: number | null; readonly stderr: string } {
  return spawnSync(process.execPath, [main, ...words], { cwd, encoding: 'utf8', maxBuffer: 1e9 });
}

/** All files but those of the writer's own. */
function texts(at: string): ReadonlyMap<string, string> {
  return new Map(
    readdirSync(at, { recursive: true, encoding: 'utf8' })
      .filter((name) => /\.(?:yaml|json|csv|sdp)$/.test(name))
      .map((name) => [name, readFileSync(join(at, name), 'utf8')]),
  );
}

function stateOf(at: string): 'old' | 'new' | 'mixed' {
  const there = texts(at);
  const same = (other: ReadonlyMap<string, string>): boolean =>
    other.size === there.size && [...other].every(([name, text]) => there.get(name) === text);
  return same(old) ? 'old' : same(now) ? 'new' : 'mixed';
}

function leftovers(at: string): readonly string[] {
  return readdirSync(at, { recursive: true, encoding: 'utf8' }).filter((name) => name.includes('rigproof'));
}

function ended(child: ChildProcess): Promise<{ readonly code: number | null; readonly signal: string | null }> {
  return new Promise((resolve) =>
    child.on('close', (code, signal) => {
      resolve({ code, signal });
    }),
  );
}

/** Kills a merge when so many files of its own have come and gone in the folders. */
async function killedAfter(at: string, events: number): Promise<boolean> {
  const child = spawn(process.execPath, [main, ...IN_PLACE], { cwd: at, stdio: 'ignore' });
  let seen = 0;
  const watchers = ['dunlin', 'sanderling'].map((name) =>
    watch(join(at, name), () => {
      if (++seen === events) child.kill('SIGKILL');
    }),
  );
  const { signal } = await ended(child);
  for (const one of watchers) one.close();
  return signal === 'SIGKILL';
}

describe('a merge in place that is killed', () => {
  it('leaves plans that are all old or all new after the next writing call, and reading says so until then', async () => {
    const met = new Set<string>();
    let kills = 0;
    for (let events = 1; events <= 43; events += 3) {
      const at = copied();
      if (await killedAfter(at, events)) kills++;
      const then = stateOf(at);
      const journals = leftovers(at).filter((name) => name.endsWith('journal'));
      met.add(then);
      if (then === 'mixed') {
        expect(journals.sort()).toEqual(['dunlin/.dunlin.rigproof-journal', 'sanderling/.sanderling.rigproof-journal']);
        for (const name of ['dunlin', 'sanderling/camera-1.yaml']) {
          const lint = spawnSync(process.execPath, [main, 'lint', name, '--format', 'json'], {
            cwd: at,
            encoding: 'utf8',
          });
          expect([lint.status, lint.stdout]).toEqual([
            2,
            expect.stringContaining('were being written when the program was stopped'),
          ]);
        }
      }
      // The one or the other, as the crew may do.
      const settled = events % 2 === 1 ? merged(at) : merged(at, ['settle', '.']);
      expect([0, 1], settled.stderr).toContain(settled.status);
      expect(['old', 'new'], `killed after ${events}`).toContain(stateOf(at));
      if (then === 'mixed') expect(stateOf(at)).toBe('new');
      expect(merged(at).stderr).not.toContain('failed');
      expect([stateOf(at), leftovers(at)]).toEqual(['new', []]);
    }
    expect(kills).toBeGreaterThan(5);
    expect(met.size).toBeGreaterThan(1);
  });
});

describe('two merges in place at once', () => {
  it('do not mix: one is told to try again, or both did the same', async () => {
    const at = copied();
    const both = await Promise.all(
      [1, 2, 3].map(() => ended(spawn(process.execPath, [main, ...IN_PLACE], { cwd: at, stdio: 'ignore' }))),
    );
    for (const { code } of both) expect([0, 1, 2]).toContain(code);
    expect(both.some(({ code }) => code === 0 || code === 1)).toBe(true);
    expect([stateOf(at), leftovers(at)]).toEqual(['new', []]);
  });
});

describe.skipIf(!existsSync('/dev/full'))('standard output that is full (needs /dev/full)', () => {
  it.each([
    ['a report', 'lint heron'],
    ['a list', 'rules'],
    ['a page of help', '--help'],
    ['a diff', 'diff heron dunlin'],
    ['a sheet', 'sheets heron --only hosts'],
  ])('ends with 3 and one sentence: %s', (_, words) => {
    const at = copied();
    const { status, stderr } = spawnSync('sh', ['-c', `"$0" "$1" ${words} > /dev/full`, process.execPath, main], {
      cwd: at,
      encoding: 'utf8',
    });
    expect([status, stderr.split('\n').filter((line) => line.startsWith('rigproof'))]).toEqual([
      3,
      ["rigproof: standard output can't be written (there is no room left on the disk)"],
    ]);
    expect(stderr).not.toMatch(/\bat .*\.[jt]s:\d/);
  });

  it('leaves the plans as they are: what was to be read about them is gone', () => {
    const at = copied();
    const { status } = spawnSync('sh', ['-c', `"$0" "$1" ${IN_PLACE.join(' ')} > /dev/full`, process.execPath, main], {
      cwd: at,
    });
    expect([status, stateOf(at), leftovers(at)]).toEqual([3, 'old', []]);
  });
});

describe.skipIf(!existsSync('/dev/stdout'))('an output that is a pipe of this process (needs /dev/stdout)', () => {
  it('is called a pipe, though its link has no path', () => {
    const line = `"$0" "$1" lint heron --output /dev/stdout 2>&1 | cat`;
    const { stdout } = spawnSync('sh', ['-c', line, process.execPath, main], { cwd: copied(), encoding: 'utf8' });
    expect(stdout).toContain('rigproof: /dev/stdout is a pipe, not a file');
  });
});

describe('a reader that goes away', () => {
  it('is no failure, and keeps no plan from being written', () => {
    const at = copied();
    const line = `{ { "$0" "$1" ${IN_PLACE.join(' ')}; echo $? >&3; } | true; } 3>&1`;
    const { stdout, stderr } = spawnSync('sh', ['-c', line, process.execPath, main], { cwd: at, encoding: 'utf8' });
    expect([stdout, stderr, stateOf(at)]).toEqual(['0\n', '', 'new']);
  });
});

/** A disk of 512 kB, where this may be mounted. */
function smallDisk(): string | undefined {
  const at = mkdtempSync(join(tmpdir(), 'rigproof-full-'));
  if (spawnSync('mount', ['-t', 'tmpfs', '-o', 'size=512k', 'tmpfs', at]).status === 0) return at;
  rmSync(at, { recursive: true });
  return undefined;
}

const DISK = smallDisk();
afterAll(() => {
  if (DISK === undefined) return;
  spawnSync('umount', [DISK]);
  rmSync(DISK, { recursive: true });
});

describe.skipIf(DISK === undefined)('a full disk (needs to mount one)', () => {
  it('leaves all plans old and no file of the writer, and says that nothing was written', () => {
    const at = join(DISK ?? '', 'rigs');
    let refused = 0;
    // From no room at all to enough: at some size the first files fit and the others do not.
    for (let free = 0; free <= 112; free += 8) {
      rmSync(at, { recursive: true, force: true });
      mkdirSync(at);
      copied(at);
      fill(at, free);
      const { status, stderr } = merged(at);
      rmSync(join(at, 'ballast'));
      if (status === 3) {
        refused++;
        expect(stderr).toBe('rigproof: nothing was written (there is no room left on the disk)\n');
        expect([stateOf(at), leftovers(at)], `${free} kB free`).toEqual(['old', []]);
      } else expect([status, stateOf(at), leftovers(at)], `${free} kB free`).toEqual([0, 'new', []]);
    }
    expect(refused).toBeGreaterThan(1);
    expect(refused).toBeLessThan(15);
  });

  /** Takes all room but so many kB. */
  function fill(at: string, free: number): void {
    const ballast = join(at, 'ballast');
    for (let size = 512; size > 0; size -= 4) {
      try {
        writeFileSync(ballast, Buffer.alloc(size * 1024));
        writeFileSync(ballast, Buffer.alloc(Math.max(0, size - free) * 1024));
        return;
      } catch {
        // More than there is.
      }
    }
  }
});
