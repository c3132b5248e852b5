/**
 * The questionnaire on a real terminal: a pseudo terminal of Python's `pty` module types the lines. What becomes of the
 * answers is left to a stand-in that writes them down.
 */
import { spawnSync } from 'node:child_process';
import { existsSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath, pathToFileURL } from 'node:url';
import { afterAll, beforeAll, beforeEach, describe, expect, it } from 'vitest';

const ROOT = fileURLToPath(new URL('../..', import.meta.url));
const ASK = join(ROOT, 'dist/src/cli/ask.js');
const TERMINAL = join(ROOT, 'dist/src/edge/terminal.js');
const TYPE_LINES = join(ROOT, 'tests/tools/type-lines.py');
const HAS_PTY = spawnSync('python3', ['-c', 'import pty']).status === 0;
let base = '';
let folder = '';

/** Runs the questionnaire as a command does, its errors for users on standard error and exit code 2. */
function script(file: string | undefined): string {
  return `
    const { askForRequest } = await import(${JSON.stringify(pathToFileURL(ASK).href)});
    const { processTerminal } = await import(${JSON.stringify(pathToFileURL(TERMINAL).href)});
    const form = { example: 'rig: Plover', textOf: ({ rig, areas, networks }) => JSON.stringify([rig, areas.length, networks]) };
    try {
      process.exitCode = await askForRequest(${JSON.stringify(file)}, form, processTerminal());
    } catch (error) {
      if (error.name !== 'UsageError') throw error;
      process.stderr.write(error.message + '\\n');
      process.exitCode = 2;
    }`;
}

beforeAll(() => {
  expect(existsSync(ASK), 'run `npm run build` first').toBe(true);
  base = mkdtempSync(join(tmpdir(), 'rigproof-ask-'));
});
beforeEach(() => {
  folder = mkdtempSync(join(base, 'case-'));
});
afterAll(() => {
  rmSync(base, { recursive: true, force: true });
});

/** What a terminal showed, without its commands, and the exit code. */
function type(lines: readonly string[], file?: string): { readonly code: number; readonly shown: string } {
  const words = [TYPE_LINES, JSON.stringify(lines), process.execPath, '--input-type=module', '-e', script(file)];
  const { stdout, stderr } = spawnSync('python3', words, { cwd: folder, encoding: 'utf8' });
  expect(stderr).toBe('');
  const { code, shown } = JSON.parse(stdout) as { readonly code: number; readonly shown: string };
  return { code, shown: shown.replace(/\u001b\[[\d;]*[A-Za-z]/g, '').replaceAll('\r', '') };
}

describe.skipIf(!HAS_PTY)('on a terminal (needs python3 with its pty module)', () => {
  it('asks, says what to write instead, takes usual answers, and writes the request', () => {
    const { code, shown } = type([
      'Plover',
      'Kestrel Bay',
      'island, shore',
      '2 clocks',
      '2 camras',
      '2 cameras',
      '1',
      '',
      '',
      '',
      '',
    ]);
    expect([code, readdirSync(folder)]).toEqual([0, ['plover-request.yaml']]);
    expect(readFileSync(join(folder, 'plover-request.yaml'), 'utf8')).toBe('["Plover",2,1]');
    expect(shown).toContain('did you mean cameras?');
    expect(shown).toContain('[10.20.0.0/14]');
    expect(shown).toContain('plover-request.yaml is written.');
  });

  it('does not ask for a file that the command names, and makes no line of the terminal from a name', () => {
    const { code, shown } = type(['', '', 'is\u202eland', '2 clocks', '', '', '', ''], 'mine.yaml');
    expect([code, readdirSync(folder)]).toEqual([0, ['mine.yaml']]);
    expect(shown).toContain('What stands in is\\u{202e}land?');
    expect(shown).not.toContain('Into which file');
  });

  it.each([
    ['Ctrl-C', '\u0003'],
    ['Ctrl-D', '\u0004'],
  ])('left with %s it writes nothing and says so', (_, key) => {
    const { code, shown } = type(['Plover', key]);
    expect([code, readdirSync(folder)]).toEqual([2, []]);
    expect(shown).toContain('nothing is written');
  });

  it('keeps a file that exists, named by the command or as an answer', () => {
    writeFileSync(join(folder, 'mine.yaml'), 'mine');
    const named = type([], 'mine.yaml');
    expect(named.code).toBe(2);
    expect(named.shown).toContain('mine.yaml exists and is kept');
    const answered = type(['', '', '', '', '', '', '', '', '', 'mine.yaml', 'other.yaml']);
    expect(answered.code).toBe(0);
    expect(answered.shown).toContain('write another name');
    expect(readFileSync(join(folder, 'mine.yaml'), 'utf8')).toBe('mine');
    expect(readdirSync(folder).sort()).toEqual(['mine.yaml', 'other.yaml']);
  });
});

describe('without a terminal', () => {
  it('says what to write instead, and where every key is described', () => {
    const words = ['--input-type=module', '-e', script(undefined)];
    const { status, stdout, stderr } = spawnSync(process.execPath, words, {
      cwd: folder,
      encoding: 'utf8',
      input: 'Plover\n',
    });
    expect([status, stdout, readdirSync(folder)]).toEqual([2, '', []]);
    expect(stderr).toContain('rig: Plover\n');
    expect(stderr).toContain('schemas/request.schema.json');
  });
});
