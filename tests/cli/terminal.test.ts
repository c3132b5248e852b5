/** The terminal a command is given is the only one it knows. */
import { mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { run } from '../tools/run-program.js';

const CLASH =
  'devices:\n  - name: a\n    senders: [{name: v, legs: [{group: 239.10.1.3, port: 5004}]}]\n' +
  '  - name: b\n    senders: [{name: v, legs: [{group: 239.10.1.3, port: 5004}]}]\n';
let folder = '';

beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'rigproof-terminal-'));
  writeFileSync(join(folder, 'plan.yaml'), CLASH);
});
afterAll(() => {
  rmSync(folder, { recursive: true, force: true });
});

describe('the terminal of a command', () => {
  it('says where relative paths start, for plans, profiles and outputs', async () => {
    writeFileSync(join(folder, 'conventions.yaml'), 'severity: {groups/two-senders: note}\n');
    const judged = await run(['lint', 'plan.yaml', '--profile', 'conventions.yaml', '--output', 'out.txt'], {
      cwd: folder,
    });
    expect(judged).toEqual({ status: 0, stdout: 'out.txt: the report, 1 note\n', stderr: '' });
    expect(readFileSync(join(folder, 'out.txt'), 'utf8')).toContain('plan.yaml 5:40');
    const sheets = await run(['sheets', 'plan.yaml', '--output', 'new/sheets'], { cwd: folder });
    expect(sheets.status).toBe(0);
    expect(sheets.stdout).toContain('new/sheets/streams.csv: 2 rows');
    expect(readdirSync(join(folder, 'new/sheets'))).toContain('streams.csv');
  });

  it('is where a plan on standard input comes from', async () => {
    const { status, stdout } = await run(['lint', '-'], { input: CLASH });
    expect(status).toBe(1);
    expect(stdout).toContain('<stdin> 5:40');
  });

  it('decides on colour and width', async () => {
    const words = ['lint', 'plan.yaml'];
    const plain = await run(words, { cwd: folder });
    const wide = await run(words, { cwd: folder, columns: 120 });
    const off = await run(words, { cwd: folder, columns: 120, env: { NO_COLOR: '1' } });
    const dumb = await run(words, { cwd: folder, columns: 120, env: { TERM: 'dumb' } });
    expect(plain.stdout).not.toContain('\u001b[');
    expect(wide.stdout).toContain('\u001b[');
    expect(off.stdout).not.toContain('\u001b[');
    expect(dumb.stdout).toBe(off.stdout);
    expect(off.stdout).not.toBe(plain.stdout);
  });

  it('hears help, the version, and what is wrong with the words', async () => {
    const help = await run(['--help']);
    expect([help.status, help.stderr]).toEqual([0, '']);
    expect(help.stdout).toContain('Usage: rigproof');
    expect((await run(['--version'])).stdout).toMatch(/^\d+\.\d+\.\d+\n$/);
    const wrong = await run(['lint', '--forma', 'json', 'plan.yaml'], { cwd: folder });
    expect([wrong.status, wrong.stdout]).toEqual([2, '']);
    expect(wrong.stderr).toContain('Did you mean --format?');
  });

  it('is asked by allocate --ask, which refuses a pipe', async () => {
    const piped = await run(['allocate', '--ask'], { cwd: folder });
    expect(piped.status).toBe(2);
    expect(piped.stderr).toContain('--ask needs a terminal');
    const answers = ['Sanderling', 'Kestrel Bay', 'shore', '2 cameras', '', '', '', '', '', '', ''];
    const asked = await run(['allocate', '--ask'], { cwd: folder, columns: 80, input: `${answers.join('\n')}\n` });
    expect([asked.status, asked.stderr]).toEqual([0, '']);
    expect(readFileSync(join(folder, 'sanderling-request.yaml'), 'utf8')).toContain('rig: Sanderling');
  });
});
