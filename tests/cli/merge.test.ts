/** Joining rigs as a user meets it: streams, exit codes, files. */
import { cpSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { run as runProgram } from '../tools/run-program.js';

const ROOT = fileURLToPath(new URL('../..', import.meta.url));
const BAY = join(ROOT, 'examples/kestrel-bay');

let folder = '';
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'merge-'));
  cpSync(BAY, join(folder, 'bay'), { recursive: true });
});
afterAll(() => {
  rmSync(folder, { recursive: true, force: true });
});

interface Said {
  readonly status: number;
  readonly out: string;
  readonly err: string;
}

async function run(...words: readonly string[]): Promise<Said> {
  const { status, stdout, stderr } = await runProgram(words, { cwd: folder });
  return { status, out: stdout, err: stderr };
}

const RIGS = ['bay/heron', 'bay/dunlin'];
const JOIN = ['--join', 'bay/join.yaml'];

function textsBelow(path: string): Readonly<Record<string, string>> {
  const names = readdirSync(path, { recursive: true, withFileTypes: true }).filter((entry) => entry.isFile());
  return Object.fromEntries(
    names.map((entry) => [
      join(entry.parentPath, entry.name).slice(path.length),
      readFileSync(join(entry.parentPath, entry.name), 'utf8'),
    ]),
  );
}

describe('merge', () => {
  it('exits 1 where rigs clash and names the rig at every place', async () => {
    const { status, out, err } = await run('merge', ...RIGS, ...JOIN);
    expect(status).toBe(1);
    expect(err).toBe('');
    expect(out).toContain('JOINED: Dunlin, Heron');
    expect(out).toMatch(/dunlin\/devices\.yaml \d+:\d+ {2}Dunlin: /);
    expect(out).toMatch(/heron\/cameras\.yaml \d+:\d+ {2}Heron: /);
  });

  it('refuses one rig, an unknown rig to keep, and options that say two things', async () => {
    expect(await run('merge', 'bay/heron')).toMatchObject({
      status: 2,
      err: 'rigproof: name at least two rigs: a file or a folder for each\n',
    });
    expect((await run('merge', ...RIGS, '--write', 'x', '--in-place')).status).toBe(2);
    expect((await run('merge', ...RIGS, '--keep', 'Heronn')).out).toContain('keep Dunlin or Heron');
    expect(await run('merge', ...RIGS, '--one', 'Heron:control')).toMatchObject({
      status: 2,
      err: 'rigproof: write --one as Heron:control=Dunlin:control, not Heron:control\n',
    });
    expect((await run('merge', 'bay', 'bay/heron')).out).toContain('give each rig as an argument of its own');
  });

  it('says what is wrong with a join file that names nothing there is', async () => {
    writeFileSync(join(folder, 'bad-join.yaml'), 'rigproof: 1\njoins:\n  - {vlans: [Heron:kontrol, Dunlin:control]}\n');
    const { status, out } = await run('merge', ...RIGS, '--join', 'bad-join.yaml');
    expect(status).toBe(1);
    expect(out).toContain('Heron:kontrol');
    expect(out).toMatch(/bad-join\.yaml 3:/);
  });

  it('takes plain joins as options', async () => {
    const { out } = await run('merge', ...RIGS, '--one', 'Heron:control=Dunlin:control', '--format', 'json');
    const report = JSON.parse(out) as {
      readonly findings: readonly { readonly rule: string; readonly rigs: readonly string[] }[];
    };
    const twice = report.findings.filter(({ rule }) => rule === 'hosts/duplicate-address');
    expect(twice).toHaveLength(29);
    expect(twice.every(({ rigs }) => rigs.join() === 'Dunlin,Heron')).toBe(true);
    expect(report.findings.some(({ rule }) => rule === 'groups/two-senders')).toBe(false);
  });
});

describe('merge --write', () => {
  it('leaves the plans alone, and writes ones that meet without a clash, and a sheet that makes the same of the old ones', async () => {
    const before = textsBelow(join(folder, 'bay'));
    const { status, out } = await run('merge', ...RIGS, ...JOIN, '--write', 'new');
    expect(status).toBe(0);
    expect(out).toContain('PROPOSED NUMBERS');
    expect(textsBelow(join(folder, 'bay'))).toEqual(before);

    const merged = await run('merge', 'new/Heron', 'new/Dunlin', '--join', 'new/join.yaml', '--repair');
    expect(merged.out).toContain('no box has to give up a group or an address');
    expect(merged.status).toBe(0);
    const json = (
      await run('merge', 'new/Heron', 'new/Dunlin', '--join', 'new/join.yaml', '--repair', '--format', 'json')
    ).out;
    expect((JSON.parse(json) as { readonly repair: { readonly sheet: object } }).repair.sheet).toMatchObject({
      edits: [],
    });

    const applied = await run('apply', 'new/change-sheet.json', ...RIGS, ...JOIN, '--write', 'applied');
    expect(applied).toMatchObject({ status: 0, err: '' });
    const made = textsBelow(join(folder, 'applied'));
    const meant = textsBelow(join(folder, 'new'));
    for (const file of Object.keys(made)) expect(made[file], file).toBe(meant[file]);
    expect(Object.keys(meant).filter((file) => made[file] === undefined)).toEqual([
      '/change-sheet.csv',
      '/change-sheet.json',
      '/change-sheet.txt',
    ]);

    const twice = await run(
      'apply',
      'new/change-sheet.json',
      'applied/Heron',
      'applied/Dunlin',
      '--join',
      'applied/join.yaml',
      '--write',
      'twice',
    );
    expect(twice.out).toBe('Nothing to change: the plans say all of the sheet already.\n');
    expect(textsBelow(join(folder, 'twice'))).toEqual(made);
  });

  it('writes over nothing', async () => {
    const before = textsBelow(join(folder, 'new'));
    const { status, err } = await run('merge', ...RIGS, ...JOIN, '--write', 'new');
    expect(status).toBe(2);
    expect(err).toMatch(/new\/Heron\/\S+.* exist; add --force/);
    expect(textsBelow(join(folder, 'new'))).toEqual(before);
  });

  it('changes only the lines that have new numbers, comments and all else as they were', () => {
    const lines = (path: string): readonly string[] => readFileSync(join(folder, path), 'utf8').split('\n');
    const old = lines('bay/dunlin/devices.yaml');
    const now = lines('new/Dunlin/devices.yaml');
    expect(now).toHaveLength(old.length);
    const changed = old.flatMap((line, index) => (line === now[index] ? [] : [line]));
    expect(changed.length).toBeGreaterThan(0);
    expect(changed.filter((line) => !/group|address|ptp|priority1/.test(line))).toEqual([]);
  });
});

describe('apply', () => {
  it('refuses a plan that has changed since the sheet was made, and writes nothing', async () => {
    cpSync(join(folder, 'bay'), join(folder, 'later'), { recursive: true });
    const path = join(folder, 'later/dunlin/devices.yaml');
    writeFileSync(path, readFileSync(path, 'utf8').replace('192.168.10.31/24', '192.168.10.231/24'));
    const before = textsBelow(join(folder, 'later'));
    const { status, out } = await run(
      'apply',
      'new/change-sheet.json',
      'later/heron',
      'later/dunlin',
      '--join',
      'later/join.yaml',
      '--in-place',
    );
    expect(status).toBe(2);
    expect(out).toContain('the plan has changed since the sheet was made');
    expect(out).toMatch(/later\/dunlin\/devices\.yaml \d+:\d+/);
    expect(textsBelow(join(folder, 'later'))).toEqual(before);
  });

  it('says what it needs', async () => {
    expect((await run('apply', 'new/change-sheet.json', ...RIGS)).err).toContain('--write FOLDER, or --in-place');
    expect((await run('apply', 'bay/join.yaml', ...RIGS, '--in-place')).err).toContain('this is not a change sheet');
    expect((await run('apply', 'new/change-sheet.json', 'bay/heron', '--in-place')).out).toContain(
      'not among the plans',
    );
  });

  it('writes over the plans when told to', async () => {
    cpSync(join(folder, 'bay'), join(folder, 'place'), { recursive: true });
    const { status } = await run(
      'apply',
      'new/change-sheet.json',
      'place/heron',
      'place/dunlin',
      '--join',
      'place/join.yaml',
      '--in-place',
    );
    expect(status).toBe(0);
    expect(readFileSync(join(folder, 'place/dunlin/devices.yaml'), 'utf8')).toBe(
      readFileSync(join(folder, 'new/Dunlin/devices.yaml'), 'utf8'),
    );
    expect(readdirSync(join(folder, 'place/dunlin')).filter((name) => name.endsWith('.part'))).toEqual([]);
  });
});

describe('an ancestor', () => {
  const plan = (rig: string, group: string): string =>
    `rigproof: 1\nrig: ${rig}\nnetworks: [{name: red, role: media, leg: 1}]\ndevices:\n  - name: clock\n    interfaces: [{name: red, network: red, address: 10.0.0.1/24}]\n    senders: [{name: tone, legs: [{interface: red, group: ${group}, port: 5004}]}]\n`;

  it('makes what nobody changed one thing', async () => {
    writeFileSync(join(folder, 'old.yaml'), plan('Heron', '239.1.1.1'));
    writeFileSync(join(folder, 'a.yaml'), plan('Heron', '239.1.1.1'));
    writeFileSync(join(folder, 'b.yaml'), plan('Dunlin', '239.1.1.1'));
    expect((await run('merge', 'a.yaml', 'b.yaml')).out).toContain('239.1.1.1');
    expect((await run('merge', 'a.yaml', 'b.yaml')).status).toBe(1);
    const { status, out } = await run('merge', 'a.yaml', 'b.yaml', '--ancestor', 'old.yaml');
    expect(out).toContain('Nothing found; ');
    expect(status).toBe(0);
  });

  it('asks where both have changed it', async () => {
    writeFileSync(join(folder, 'c.yaml'), plan('Dunlin', '239.1.1.3'));
    writeFileSync(join(folder, 'd.yaml'), plan('Heron', '239.1.1.2'));
    const { status, out } = await run('merge', 'd.yaml', 'c.yaml', '--ancestor', 'old.yaml');
    expect(status).toBe(2);
    expect(out).toContain('device clock comes from the ancestor and has been changed differently here and at c.yaml');
  });
});
