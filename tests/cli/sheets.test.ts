/** `rigproof sheets` as a user meets it: files, standard output, what is kept and what is refused. */
import { existsSync, mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { parse } from 'csv-parse/sync';
import { afterAll, beforeAll, beforeEach, describe, expect, it } from 'vitest';
import { run as runProgram, type Run } from '../tools/run-program.js';

const ROOT = fileURLToPath(new URL('../..', import.meta.url));
const DUNLIN = join(ROOT, 'examples/kestrel-bay/dunlin');
const ALL = ['clocks.csv', 'hosts.csv', 'ports.csv', 'streams.csv', 'vlans.csv'];
let base = '';
let folder = '';

beforeAll(() => {
  base = mkdtempSync(join(tmpdir(), 'rigproof-sheets-'));
});
beforeEach(() => {
  folder = mkdtempSync(join(base, 'case-'));
});
afterAll(() => {
  rmSync(base, { recursive: true, force: true });
});

function run(words: readonly string[], input = ''): Promise<Run> {
  return runProgram(['sheets', ...words], { cwd: folder, input });
}

describe('into a folder', () => {
  it('writes all sheets, into a folder it makes, and says how long each is', async () => {
    const { status, stdout, stderr } = await run([DUNLIN, '--output', 'crew/day-1']);
    expect([status, stderr]).toEqual([0, '']);
    expect(readdirSync(join(folder, 'crew/day-1')).sort()).toEqual(ALL);
    for (const line of stdout.trim().split('\n')) {
      const [, path = '', rows] = /^(.*): (\d+) rows$/.exec(line) ?? [];
      const records: unknown[] = parse(readFileSync(join(folder, path)), { columns: true });
      expect(records.length).toBe(Number(rows));
    }
    expect(stdout.split('\n').length).toBe(ALL.length + 1);
  });

  it('writes nothing at all where one sheet exists, until it is forced', async () => {
    writeFileSync(join(folder, 'vlans.csv'), 'mine');
    const kept = await run([DUNLIN, '--output', '.']);
    expect(kept.status).toBe(2);
    expect(kept.stderr).toContain('vlans.csv exists; add --force to overwrite');
    expect(readdirSync(folder)).toEqual(['vlans.csv']);
    expect(readFileSync(join(folder, 'vlans.csv'), 'utf8')).toBe('mine');
    expect((await run([DUNLIN, '--output', '.', '--only', 'hosts'])).status).toBe(0);
    expect((await run([DUNLIN, '--output', '.', '--force'])).status).toBe(0);
    expect(readdirSync(folder).sort()).toEqual(ALL);
    expect(readFileSync(join(folder, 'vlans.csv'), 'utf8')).toMatch(/^"VLAN id",/);
  });

  it('leaves no part of a file where the folder can not be written', async () => {
    writeFileSync(join(folder, 'taken'), '');
    const refused = await run([DUNLIN, '--output', 'taken']);
    expect(refused.status).toBe(2);
    expect(refused.stderr).toMatch(/nothing was written .*'taken'/);
    mkdirSync(join(folder, 'crew/ports.csv/full'), { recursive: true });
    const half = await run([DUNLIN, '--output', 'crew', '--force']);
    expect(half.status).toBe(2);
    expect(readdirSync(join(folder, 'crew')).filter((name) => name.endsWith('.part'))).toEqual([]);
    expect(readdirSync(join(folder, 'crew'))).toEqual(['ports.csv']);
  });

  it('says which sheets would be empty, and what fills them', async () => {
    writeFileSync(join(folder, 'plan.yaml'), 'vlans: [{name: red-video, id: 210}]\n');
    const { status, stdout } = await run(['plan.yaml', '--output', 'crew']);
    expect(status).toBe(0);
    expect(readdirSync(join(folder, 'crew'))).toEqual(['vlans.csv']);
    expect(stdout).toContain('vlans.csv: 1 row\n');
    expect(stdout).toContain('no clocks.csv: the plan states nothing for it; give devices and switches their `ptp`\n');
  });
});

describe('to standard output', () => {
  it('prints one sheet, also of a plan on standard input', async () => {
    const { status, stdout } = await run(['-', '--only', 'VLANs'], 'vlans: [{name: red-video, id: 210}]\n');
    expect(status).toBe(0);
    expect(stdout.split('\r\n')[1]).toMatch(/^210,"red-video",/);
  });
});

describe('refuses, and says what to write', () => {
  it.each([
    ['several sheets without a folder', [DUNLIN], '--output FOLDER'],
    ['a sheet there is not', [DUNLIN, '--only', 'host'], 'did you mean `hosts`?'],
    ['no sheet', [DUNLIN, '--only', ','], 'there are hosts, streams, vlans, ports, clocks'],
    ['a sheet that would be empty', ['vlans.yaml', '--only', 'clocks'], 'give devices and switches their `ptp`'],
    ['a plan that is not there', ['nowhere.yaml', '--only', 'hosts'], 'there is no such file'],
    ['a plan with a part unreadable', ['broken.yaml', DUNLIN, '--output', 'crew'], 'broken.yaml 1:'],
  ])('%s', async (_, words, said) => {
    writeFileSync(join(folder, 'broken.yaml'), 'devices: 3\n');
    writeFileSync(join(folder, 'vlans.yaml'), 'vlans: [{name: red-video, id: 210}]\n');
    const { status, stdout, stderr } = await run(words);
    expect([status, stdout]).toEqual([2, '']);
    expect(stderr).toContain(said);
    expect(stderr).not.toMatch(/\bat .*\.[jt]s:\d/);
    expect(existsSync(join(folder, 'crew'))).toBe(false);
  });
});
