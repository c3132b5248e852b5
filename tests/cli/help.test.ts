/** What the help of a command tells people to type is typed here, and ends with a code that the help says. */
import { cpSync, existsSync, mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { OutputFault } from '../../src/disk/streams.js';
import { runProgram } from '../../src/cli/program.js';
import { run, terminalOf } from '../tools/run-program.js';

const KESTREL_BAY = fileURLToPath(new URL('../../examples/kestrel-bay', import.meta.url));
const COMMANDS = await commandNames();
let folder = '';

beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'rigproof-help-'));
  cpSync(KESTREL_BAY, folder, { recursive: true });
});
afterAll(() => {
  rmSync(folder, { recursive: true, force: true });
});

it('there are commands, as README lists them', () => {
  expect(COMMANDS).toEqual(expect.arrayContaining(['lint', 'merge', 'allocate', 'trace', 'sheets']));
  expect(COMMANDS.length).toBeGreaterThan(14);
});

// In the order of the commands: what one writes another one reads.
describe.each(COMMANDS)('rigproof %s --help', (command) => {
  it('shows examples that run, each ending as it says', async () => {
    const help = await helpOf(command);
    expect(help).toContain('in examples/kestrel-bay of this package:');
    const examples = [...help.matchAll(/^ {2}rigproof (\S.*)\n {6}(\S.*)$/gm)];
    expect(examples.length).toBeGreaterThan(0);
    expect(examples.length).toBeLessThan(3);
    const codes = codesOf(help);
    for (const [, line = '', shows = ''] of examples) {
      const words = wordsOf(line);
      expect(words[0]).toBe(command);
      const { status, stdout } = await run(words, { cwd: folder });
      expect(codes, line).toContain(status);
      expect(status, line).toBe(Number(/exit code (\d)/.exec(shows)?.[1] ?? 0));
      expect(stdout, line).not.toBe('');
      for (const [, written = ''] of line.matchAll(/--(?:output|write|sheets) (\S+)/g))
        expect(existsSync(join(folder, written)), `${line}: ${written}`).toBe(true);
    }
  });

  it('says in words how it ends: with 2 for wrong usage, with 3 where nothing can be written', async () => {
    const codes = codesOf(await helpOf(command));
    expect(codes).toEqual(expect.arrayContaining([0, 2, 3]));
    expect((await run([command, '--no-such-option'], { cwd: folder })).status).toBe(2);
    const { terminal } = terminalOf({ cwd: folder });
    const full = {
      write: (): void => {
        throw new OutputFault(new Error('full'));
      },
      isTTY: false,
      columns: undefined,
    };
    const [line = ''] = examplesOf(await helpOf(command));
    // An allocation and a repair written to files say so on standard output too.
    expect(await runProgram([...wordsOf(line), ...forced(line)], { ...terminal, stdout: full })).toBe(3);
  });

  it('fits a terminal of 80 columns but for lines to type', async () => {
    const help = await helpOf(command);
    const long = help.split('\n').filter((line) => line.length > 80 && !line.startsWith('  rigproof '));
    expect(long).toEqual([]);
  });
});

describe('a code that is left out', () => {
  it('is 1 for those who only answer: a plan full of errors does not bring it', async () => {
    for (const command of ['failures', 'clocks', 'delay', 'sheets', 'diff', 'trace']) {
      expect(codesOf(await helpOf(command)), command).toEqual([0, 2, 3]);
      const more = { sheets: ['--only', 'hosts'], diff: ['heron'], trace: ['cam-11/video'] }[command] ?? [];
      expect((await run([command, 'heron-broken', ...more], { cwd: folder })).status, command).toBe(0);
    }
    for (const command of ['lint', 'mend', 'merge', 'allocate'])
      expect(codesOf(await helpOf(command)), command).toEqual([0, 1, 2, 3]);
  });
});

async function commandNames(): Promise<readonly string[]> {
  const { stdout } = await run(['--help']);
  const names = [...(stdout.split('\nCommands:\n')[1] ?? '').matchAll(/^ {2}([a-z]+) /gm)].map(([, name = '']) => name);
  return names.filter((name) => name !== 'help');
}

async function helpOf(command: string): Promise<string> {
  const { status, stdout } = await run([command, '--help']);
  expect(status).toBe(0);
  return stdout;
}

function codesOf(help: string): readonly number[] {
  const codes = help.split('\nExit codes:\n')[1] ?? '';
  return [...codes.matchAll(/^ {2}(\d) {2}\S/gm)].map(([, code]) => Number(code));
}

function examplesOf(help: string): readonly string[] {
  return [...help.matchAll(/^ {2}rigproof (\S.*)$/gm)].map(([, line = '']) => line);
}

/** As a shell parts a line whose only quotes are double. */
function wordsOf(line: string): readonly string[] {
  return [...line.matchAll(/"([^"]*)"|(\S+)/g)].map(([, quoted, plain]) => quoted ?? plain ?? '');
}

/** An example that writes files has done so before. */
function forced(line: string): readonly string[] {
  return /--(?:write|output) /.test(line) ? ['--force'] : [];
}

describe('options by the names they had before version 0.2', () => {
  it.each([
    [['lint', 'plan.yaml', '--house-rules', 'our.mjs'], '--house-rules is called --convention-rules'],
    [['rate', '1080p50', '--json'], '--json is called --format json'],
    [['allocate', 'request.yaml', '--keep', 'plan.yaml'], '--keep is called --earlier'],
    [['allocate', 'request.yaml', '--report=json'], '--report is called --format'],
  ])('%s is refused with the new name', async (words, told) => {
    expect(await run(words)).toEqual({ status: 2, stdout: '', stderr: `rigproof: ${told} since version 0.2\n` });
  });
});
