/** The questionnaire, line by line. What becomes of the answers is left to a stand-in that writes them down. */
import { mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, beforeEach, describe, expect, it } from 'vitest';
import { askForRequest, type RequestForm } from '../../src/cli/ask.js';
import { UsageError } from '../../src/cli/exit.js';
import { terminalOf, type Run, type RunOptions } from '../tools/run-program.js';

const FORM: RequestForm = {
  example: 'rig: Sanderling',
  textOf: ({ rig, areas, networks }) => JSON.stringify([rig, areas.length, networks]),
};
let base = '';
let folder = '';

beforeAll(() => {
  base = mkdtempSync(join(tmpdir(), 'rigproof-ask-'));
});
beforeEach(() => {
  folder = mkdtempSync(join(base, 'case-'));
});
afterAll(() => {
  rmSync(base, { recursive: true, force: true });
});

/** Runs the questionnaire as a command does, its errors for users on standard error and exit code 2. */
async function ask(file: string | undefined, options: RunOptions): Promise<Run> {
  const { terminal, shown } = terminalOf({ cwd: folder, ...options });
  try {
    const status = await askForRequest(file, FORM, terminal);
    return { status, ...shown() };
  } catch (error) {
    if (!(error instanceof UsageError)) throw error;
    terminal.stderr.write(`${error.message}\n`);
    return { status: 2, ...shown() };
  }
}

/** What a terminal showed, and the exit code. */
async function type(
  lines: readonly string[],
  file?: string,
): Promise<{ readonly code: number; readonly shown: string }> {
  const input = lines.map((line) => `${line}\n`).join('');
  const { status, stdout, stderr } = await ask(file, { columns: 120, input });
  return { code: status, shown: stdout + stderr };
}

describe('on a terminal', () => {
  it('asks, says what to write instead, takes usual answers, and writes the request', async () => {
    const { code, shown } = await type([
      'Sanderling',
      'Kestrel Bay',
      'island, shore',
      '2 clocks',
      '2 camras',
      '2 cameras',
      '',
      '1',
      '',
      '',
      '',
      '',
      '',
    ]);
    expect([code, readdirSync(folder)]).toEqual([0, ['sanderling-request.yaml']]);
    expect(readFileSync(join(folder, 'sanderling-request.yaml'), 'utf8')).toBe('["Sanderling",2,1]');
    expect(shown).toContain('did you mean cameras?');
    expect(shown).toContain('[10.20.0.0/14]');
    expect(shown).toContain('sanderling-request.yaml is written.');
  });

  it('does not ask for a file that the command names, and makes no line of the terminal from a name', async () => {
    const { code, shown } = await type(['', '', 'is\u202eland', '2 clocks', '', '', '', '', '', ''], 'mine.yaml');
    expect([code, readdirSync(folder)]).toEqual([0, ['mine.yaml']]);
    expect(shown).toContain('What stands in is\\u{202e}land?');
    expect(shown).not.toContain('Into which file');
  });

  it('left before its end it writes nothing and says so', async () => {
    const { code, shown } = await type(['Sanderling']);
    expect([code, readdirSync(folder)]).toEqual([2, []]);
    expect(shown).toContain('nothing is written');
  });

  it('keeps a file that exists, named by the command or as an answer', async () => {
    writeFileSync(join(folder, 'mine.yaml'), 'mine');
    const named = await type([], 'mine.yaml');
    expect(named.code).toBe(2);
    expect(named.shown).toContain('mine.yaml exists and is kept');
    const answered = await type(['', '', '', '', '', '', '', '', '', '', '', 'mine.yaml', 'other.yaml']);
    expect(answered.code).toBe(0);
    expect(answered.shown).toContain('write another name');
    expect(readFileSync(join(folder, 'mine.yaml'), 'utf8')).toBe('mine');
    expect(readdirSync(folder).sort()).toEqual(['mine.yaml', 'other.yaml']);
  });
});

describe('without a terminal', () => {
  it('says what to write instead, and where every key is described', async () => {
    const { status, stdout, stderr } = await ask(undefined, { input: 'Sanderling\n' });
    expect([status, stdout, readdirSync(folder)]).toEqual([2, '', []]);
    expect(stderr).toContain('rig: Sanderling\n');
    expect(stderr).toContain('schemas/request.schema.json');
  });
});
