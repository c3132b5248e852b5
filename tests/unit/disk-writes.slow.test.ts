/**
 * Files written together: whatever call to the system is the last one, or fails, the files are all old or all new once the
 * next writing is done, and until then reading knows. Each call is tried as the last; `tests/cli/kill.test.ts` kills a real
 * process. Longer than a file should be: all of it works on the same three folders.
 */
import {
  chmodSync,
  existsSync,
  linkSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  statSync,
  symlinkSync,
  unlinkSync,
  writeFileSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, beforeEach, describe, expect, it } from 'vitest';
import { CALLS, type Calls } from '../../src/disk/calls.js';
import { pendingIn, settleFolder } from '../../src/disk/settle.js';
import { writeAll, type WriteFault } from '../../src/disk/write.js';
import { readInputs } from '../../src/edge/files.js';

const OLD: Readonly<Record<string, string>> = { 'a/one.yaml': 'old 1', 'a/two.yaml': 'old 2', 'b/three.yaml': 'old 3' };
const NEW: Readonly<Record<string, string>> = {
  'a/one.yaml': 'new 1, longer than the old one',
  'a/two.yaml': 'new 2',
  'b/three.yaml': 'new 3',
  'c/four.yaml': 'new 4',
};

let base = '';
let folder = '';
beforeAll(() => {
  base = mkdtempSync(join(tmpdir(), 'rigproof-disk-'));
});
afterAll(() => {
  rmSync(base, { recursive: true, force: true });
});
beforeEach(() => {
  folder = fresh();
});

function fresh(): string {
  const made = mkdtempSync(join(base, 'case-'));
  for (const name of ['a', 'b', 'c']) mkdirSync(join(made, name));
  for (const [name, text] of Object.entries(OLD)) writeFileSync(join(made, name), text);
  return made;
}

function write(at: string, calls: Calls): WriteFault | undefined {
  const files = Object.entries(NEW).map(([name, text]) => ({ name, text, over: true }));
  return writeAll(files, { cwd: at, makeFolders: true, patience: 0, calls });
}

/** Names and texts of all files, without those of the writer's own. */
function state(at: string): 'old' | 'new' | 'mixed' {
  const now = Object.fromEntries(
    readdirSync(at, { recursive: true, encoding: 'utf8' })
      .filter((name) => name.endsWith('.yaml'))
      .map((name) => [name, readFileSync(join(at, name), 'utf8')]),
  );
  const same = (other: Readonly<Record<string, string>>): boolean =>
    JSON.stringify(Object.entries(now).sort()) === JSON.stringify(Object.entries(other).sort());
  return same(OLD) ? 'old' : same(NEW) ? 'new' : 'mixed';
}

function leftovers(at: string): readonly string[] {
  return readdirSync(at, { recursive: true, encoding: 'utf8' }).filter((name) => name.includes('rigproof'));
}

/** The process that wrote has ended: its locks say so by its number, which here is the test's own. */
function end(at: string): void {
  for (const name of leftovers(at)) if (name.includes('-lock-')) unlinkSync(join(at, name));
}

/** The system, with something done before each call. */
function calls(before: (name: string, count: number) => void): { readonly calls: Calls; readonly count: () => number } {
  let count = 0;
  const wrap = (name: string, call: (...words: unknown[]) => unknown): ((...words: unknown[]) => unknown) => {
    return (...words) => {
      before(name, count++);
      return call(...words);
    };
  };
  const all = Object.entries(CALLS as unknown as Record<string, unknown>)
    .filter(([name]) => USED.includes(name))
    .map(([name, call]) => [name, wrap(name, call as (...words: unknown[]) => unknown)] as const);
  const made = Object.fromEntries(all) as unknown as Calls;
  const native = wrap('realpathSync', CALLS.realpathSync.native as unknown as (...words: unknown[]) => unknown);
  Object.assign(made.realpathSync, { native });
  return { calls: made, count: () => count };
}

const USED = [
  'accessSync',
  'closeSync',
  'copyFileSync',
  'fchmodSync',
  'fchownSync',
  'fsyncSync',
  'linkSync',
  'lstatSync',
  'mkdirSync',
  'openSync',
  'readdirSync',
  'readFileSync',
  'realpathSync',
  'renameSync',
  'rmdirSync',
  'statSync',
  'unlinkSync',
  'writeSync',
];

function countCalls(): number {
  const { calls: system, count } = calls(() => undefined);
  expect(write(fresh(), system)).toBeUndefined();
  return count();
}

function fail(code: string): never {
  throw Object.assign(new Error(`${code}: as the test wants it`), { code });
}

describe('several files', () => {
  it('are all new, and nothing else is left', () => {
    expect(write(folder, CALLS)).toBeUndefined();
    expect([state(folder), leftovers(folder)]).toEqual(['new', []]);
  });

  it('are all old or all new after the next writing, whichever call was the last of the process', () => {
    const total = countCalls();
    expect(total).toBeGreaterThan(50);
    const seen = new Set<string>();
    for (let last = 0; last < total; last++) {
      const at = fresh();
      write(at, calls((_, count) => (count >= last ? fail('KILLED') : undefined)).calls);
      end(at);
      const then = state(at);
      seen.add(then);
      const pending = ['a', 'b', 'c'].filter((name) => pendingIn(join(at, name), CALLS) !== undefined);
      if (then === 'mixed') {
        expect(pending, `after call ${last}`).toEqual(['a', 'b', 'c']);
        for (const name of ['a', 'b', 'c'])
          expect(readInputs([join(at, name)]).problems.at(0)?.what ?? '', `after call ${last}`).toMatch(
            name === 'c' && !existsSync(join(at, 'c/four.yaml'))
              ? /there is no plan in this folder|were being written/
              : /were being written when the program was stopped/,
          );
      }
      const next = writeAll([{ name: 'b/other.yaml', text: 'x' }], { cwd: at, makeFolders: false, patience: 0 });
      expect(next, `after call ${last}`).toBeUndefined();
      unlinkSync(join(at, 'b/other.yaml'));
      expect(['old', 'new'], `after call ${last}`).toContain(state(at));
      for (const name of ['a', 'b', 'c']) settleFolder(join(at, name), 0, CALLS);
      writeAll(
        ['a', 'c'].map((name) => ({ name: `${name}/other.yaml`, text: 'x' })),
        {
          cwd: at,
          makeFolders: false,
          patience: 0,
        },
      );
      for (const name of ['a', 'c']) unlinkSync(join(at, `${name}/other.yaml`));
      expect([['old', 'new'].includes(state(at)), leftovers(at)], `after call ${last}`).toEqual([true, []]);
    }
    expect([...seen].sort()).toEqual(['mixed', 'new', 'old']);
  });

  it('are all old where the disk is full, with nothing left, and the fault says why', () => {
    const TAKES_ROOM = ['openSync', 'writeSync', 'linkSync', 'copyFileSync', 'mkdirSync', 'fsyncSync'];
    const total = countCalls();
    const seen = new Set<string>();
    for (let from = 0; from < total; from++) {
      const at = fresh();
      const fault = write(
        at,
        calls((name, count) => (count >= from && TAKES_ROOM.includes(name) ? fail('ENOSPC') : undefined)).calls,
      );
      const then = state(at);
      // A full disk stops no rename: once all is on the disk it is done.
      expect(then, `from call ${from}`).toBe(fault === undefined ? 'new' : 'old');
      if (fault !== undefined) {
        expect(fault, `from call ${from}`).toMatchObject({ kind: 'refused', code: 'ENOSPC' });
        expect(leftovers(at), `from call ${from}`).toEqual([]);
      }
      seen.add(then);
    }
    expect([...seen].sort()).toEqual(['new', 'old']);
  });

  it('are as the answer says, whichever single call fails', () => {
    const total = countCalls();
    for (let one = 0; one < total; one++) {
      const at = fresh();
      const fault = write(at, calls((_, count) => (count === one ? fail('EIO') : undefined)).calls);
      if (fault?.kind === 'cut') expect(pendingIn(join(at, 'a'), CALLS), `call ${one}`).toBeDefined();
      else expect(state(at), `call ${one}: ${JSON.stringify(fault)}`).toBe(fault === undefined ? 'new' : 'old');
      // A lock whose removal failed is the test process's own, which still runs.
      end(at);
      for (const name of ['a', 'b', 'c']) settleFolder(join(at, name), 0, CALLS);
      expect(['old', 'new'], `call ${one}`).toContain(state(at));
    }
  });

  it('go back where a rename is refused for good', () => {
    let renames = 0;
    const refuse = (name: string): void => {
      // Two folders point to the journal and one has it; then the files follow.
      if (name === 'renameSync' && ++renames === 5) fail('EPERM');
    };
    expect(write(folder, calls(refuse).calls)).toMatchObject({ kind: 'refused', code: 'EPERM' });
    expect([state(folder), leftovers(folder)]).toEqual(['old', []]);
  });
});

describe('a journal', () => {
  // Killed when the first of four files is in place: before, each of three folders got its journal.
  beforeEach(() => {
    let renames = 0;
    const dead = (name: string): void => {
      if (name === 'renameSync') renames++;
      if (renames > 4) fail('KILLED');
    };
    write(folder, calls(dead).calls);
    end(folder);
    expect(state(folder)).toBe('mixed');
  });

  it('is called after the folder, and holds where the folders are carried elsewhere', () => {
    expect(readdirSync(join(folder, 'a'))).toContain('.a.rigproof-journal');
    const moved = `${folder}-moved`;
    CALLS.renameSync(folder, moved);
    expect(settleFolder(join(moved, 'b'), 0, CALLS)).toMatchObject([{ kind: 'finished' }]);
    expect([state(moved), leftovers(moved)]).toEqual(['new', []]);
  });

  it('takes back what can not be finished', () => {
    const [part = ''] = leftovers(folder).filter((name) => name.includes('-part-'));
    unlinkSync(join(folder, part));
    expect(settleFolder(join(folder, 'a'), 0, CALLS)).toMatchObject([{ kind: 'undone' }]);
    expect([state(folder), leftovers(folder)]).toEqual(['old', []]);
  });

  it('touches nothing where a file has been changed meanwhile, and says which; removed by hand, all stays', () => {
    writeFileSync(join(folder, 'b/three.yaml'), 'by hand');
    const three = join(folder, 'b/three.yaml');
    const [stuck] = settleFolder(join(folder, 'a'), 0, CALLS);
    expect(stuck).toMatchObject({ kind: 'stuck', files: [three] });
    const next = writeAll([{ name: 'b/other.yaml', text: 'x' }], { cwd: folder, makeFolders: false, patience: 0 });
    expect(next).toMatchObject({ kind: 'stuck', files: [three] });
    expect(existsSync(join(folder, 'b/other.yaml'))).toBe(false);
    unlinkSync(stuck?.kind === 'stuck' ? stuck.journal : '');
    expect(
      writeAll([{ name: 'b/other.yaml', text: 'x' }], { cwd: folder, makeFolders: false, patience: 0 }),
    ).toBeUndefined();
    expect(readFileSync(three, 'utf8')).toBe('by hand');
    expect(readInputs([join(folder, 'b')]).problems.map(({ what }) => what)).toEqual([]);
  });

  it('of somebody else writes over no file of a folder that does not know of it', () => {
    const victim = join(folder, 'home');
    mkdirSync(victim);
    writeFileSync(join(victim, 'settings.yaml'), 'mine');
    const path = join(folder, 'a/.a.rigproof-journal');
    const journal = readFileSync(path, 'utf8');
    writeFileSync(path, journal.replace('"one.yaml"', '"../home/settings.yaml"'));
    expect(settleFolder(join(folder, 'a'), 0, CALLS)).toMatchObject([{ kind: 'stuck' }]);
    expect(readFileSync(join(victim, 'settings.yaml'), 'utf8')).toBe('mine');
  });
});

describe('one file', () => {
  const one = (name: string, more: object = {}): WriteFault | undefined =>
    writeAll([{ name, text: 'fresh', over: true, ...more }], { cwd: folder, makeFolders: false, patience: 0 });

  it('keeps its mode, and a link to it stays a link', () => {
    chmodSync(join(folder, 'a/one.yaml'), 0o640);
    symlinkSync('one.yaml', join(folder, 'a/link.yaml'));
    expect(one('a/link.yaml')).toBeUndefined();
    expect(readFileSync(join(folder, 'a/one.yaml'), 'utf8')).toBe('fresh');
    expect(statSync(join(folder, 'a/one.yaml')).mode & 0o777).toBe(0o640);
    expect(
      readdirSync(join(folder, 'a'), { withFileTypes: true }).filter((entry) => entry.isSymbolicLink()),
    ).toHaveLength(1);
  });

  it.skipIf(process.geteuid?.() !== 0)('keeps its owner (needs to be root)', () => {
    CALLS.fchownSync(CALLS.openSync(join(folder, 'a/one.yaml'), 'r'), 1234, 2345);
    expect(one('a/one.yaml')).toBeUndefined();
    expect(statSync(join(folder, 'a/one.yaml'))).toMatchObject({ uid: 1234, gid: 2345 });
  });

  it('is not written where its owner can not be kept', () => {
    const { calls: system } = calls((name) => (name === 'fchownSync' ? fail('EPERM') : undefined));
    const foreign: Calls = {
      ...system,
      statSync: ((path: string, options: { readonly bigint?: boolean }) => {
        const stats = CALLS.statSync(path, options);
        return path.endsWith('one.yaml') ? Object.assign(stats ?? {}, { uid: 4321n }) : stats;
      }) as unknown as Calls['statSync'],
    };
    const fault = writeAll([{ name: 'a/one.yaml', text: 'x', over: true }], {
      cwd: folder,
      makeFolders: false,
      patience: 0,
      calls: foreign,
    });
    expect(fault).toEqual({ kind: 'owner', name: 'a/one.yaml' });
    expect([state(folder), leftovers(folder)]).toEqual(['old', []]);
  });

  it('with a second name is not torn from it', () => {
    linkSync(join(folder, 'a/one.yaml'), join(folder, 'a/copy.yaml'));
    expect(one('a/one.yaml')).toEqual({ kind: 'names', name: 'a/one.yaml' });
  });

  it('is not written through a link that leads nowhere, nor over a folder', () => {
    symlinkSync('nowhere.yaml', join(folder, 'a/lost.yaml'));
    expect(one('a/lost.yaml')).toEqual({ kind: 'link', name: 'a/lost.yaml' });
    expect(one('a')).toEqual({ kind: 'folder', name: 'a' });
  });

  it('waits for another writer, and gives up in words', () => {
    const { calls: system } = calls(() => undefined);
    let inner: WriteFault | undefined;
    const slow: Calls = {
      ...system,
      renameSync: (from, to) => {
        // In the middle of one writing another one starts.
        inner ??= writeAll([{ name: 'a/two.yaml', text: 'other', over: true }], {
          cwd: folder,
          makeFolders: false,
          patience: 100,
        });
        CALLS.renameSync(from, to);
      },
    };
    writeAll([{ name: 'a/one.yaml', text: 'x', over: true }], {
      cwd: folder,
      makeFolders: false,
      patience: 0,
      calls: slow,
    });
    expect(inner).toMatchObject({ kind: 'busy', pid: process.pid });
    expect(one('a/two.yaml')).toBeUndefined();
  });

  it('is not kept waiting by the lock of a process that has ended', () => {
    let lock = '';
    writeAll([{ name: 'a/one.yaml', text: 'x', over: true }], {
      cwd: folder,
      makeFolders: false,
      patience: 0,
      calls: {
        ...CALLS,
        renameSync: (from, to) => {
          lock = readdirSync(join(folder, 'a')).find((name) => name.includes('-lock-')) ?? '';
          CALLS.renameSync(from, to);
        },
      },
    });
    // No process has this number: it is past the largest there can be (proc(5), pid_max is at most 2^22).
    const dead = lock.replace(/-lock-\d+-/, '-lock-4194305-');
    expect(dead).not.toBe(lock);
    writeFileSync(join(folder, 'a', dead), '');
    expect(one('a/one.yaml')).toBeUndefined();
    expect(leftovers(folder)).toEqual([]);
  });
});

describe('names', () => {
  it.each([
    ['in another case', ['d/Plan.yaml', 'd/plan.YAML']],
    ['by another way', ['d/plan.yaml', './d/../d/plan.yaml']],
    ['with another accent', ['d/plän.yaml', 'd/pla\u0308n.yaml']],
  ])('of one file are refused before anything is written: %s', (_, names) => {
    const fault = writeAll(
      names.map((name) => ({ name, text: name })),
      { cwd: folder, makeFolders: true, patience: 0 },
    );
    expect(fault).toEqual({ kind: 'same', names });
    expect(existsSync(join(folder, 'd'))).toBe(false);
  });

  it('of one file by a link are refused too', () => {
    symlinkSync('a', join(folder, 'x'));
    const fault = writeAll(
      ['a/new.yaml', 'x/new.yaml'].map((name) => ({ name, text: name })),
      { cwd: folder, makeFolders: true, patience: 0 },
    );
    expect(fault).toEqual({ kind: 'same', names: ['a/new.yaml', 'x/new.yaml'] });
  });
});
