/** What commands read: real files, each once, no further than they may, and nothing that never ends. */
import { spawnSync } from 'node:child_process';
import { copyFileSync, cpSync, existsSync, linkSync, mkdirSync, readFileSync, symlinkSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { CLASH, CLEAN, ROOT, file, folder, inOwnFolder, run } from '../tools/cli-folder.js';

inOwnFolder();

const HAS_FIFO = spawnSync('mkfifo', ['--version']).status === 0;

async function findings(...paths: readonly string[]): Promise<number> {
  const { stdout } = await run(['lint', ...paths, '--format', 'json']);
  const { findings: all, problems } = JSON.parse(stdout) as { findings: unknown[]; problems: { what: string }[] };
  expect(problems).toEqual([]);
  return all.length;
}

async function unread(...words: readonly string[]): Promise<string> {
  const { status, stdout } = await run([...words, '--format', 'json']);
  expect(status).toBe(2);
  const { problems } = JSON.parse(stdout) as { problems: { what: string; instead: string }[] };
  return problems.map(({ what, instead }) => `${what} | ${instead}`).join('\n');
}

describe('one file', () => {
  it('is one, however often and by whatever name it is given', async () => {
    mkdirSync(join(folder, 'one'));
    copyFileSync(CLASH, join(folder, 'one/plan.yaml'));
    symlinkSync('plan.yaml', join(folder, 'one/by-link.yaml'));
    linkSync(join(folder, 'one/plan.yaml'), join(folder, 'one/second-name.yaml'));
    const alone = await findings('one/plan.yaml');
    expect(alone).toBeGreaterThan(0);
    expect(await findings('one/plan.yaml', './one/../one/plan.yaml', join(folder, 'one/plan.yaml'))).toBe(alone);
    expect(await findings('one')).toBe(alone);
    expect(await findings('one', 'one/by-link.yaml')).toBe(alone);
  });

  it('is no two rigs: a plan is not merged with itself, nor with what joins it', async () => {
    copyFileSync(CLASH, join(folder, 's.yaml'));
    const before = readFileSync(join(folder, 's.yaml'), 'utf8');
    for (const words of [
      ['s.yaml', 's.yaml'],
      ['s.yaml', './s.yaml'],
      ['s.yaml', CLEAN, '--join', 's.yaml'],
    ]) {
      const { status, stdout } = await run(['merge', ...words, '--in-place']);
      expect(status).toBe(2);
      expect(stdout).toContain('what is given here is given already');
    }
    expect(readFileSync(join(folder, 's.yaml'), 'utf8')).toBe(before);
  });
});

describe('links in a folder', () => {
  it('are followed to files and folders, inside and outside it, once, and circles are cut', async () => {
    mkdirSync(join(folder, 'rig/deep'), { recursive: true });
    mkdirSync(join(folder, 'elsewhere/more'), { recursive: true });
    copyFileSync(CLASH, join(folder, 'elsewhere/more/plan.yaml'));
    file('rig/own.yaml', 'rig: Heron\n');
    symlinkSync('../elsewhere', join(folder, 'rig/linked'));
    symlinkSync('..', join(folder, 'rig/deep/up'));
    symlinkSync('../elsewhere/more', join(folder, 'elsewhere/more/round'));
    expect(await findings('rig')).toBe(await findings('elsewhere/more/plan.yaml'));
    const { stdout } = await run(['lint', 'rig']);
    expect(stdout).toMatch(/Looked at +2 files/);
  });

  it('that lead nowhere, or to all that lies around the folder, are said', async () => {
    mkdirSync(join(folder, 'lost'));
    file('lost/own.yaml', 'rig: Heron\n');
    symlinkSync('nowhere.yaml', join(folder, 'lost/gone.yaml'));
    expect(await unread('lint', 'lost')).toContain('there is no such file');
    mkdirSync(join(folder, 'high/low'), { recursive: true });
    file('high/low/own.yaml', 'rig: Heron\n');
    symlinkSync('..', join(folder, 'high/low/up'));
    expect(await unread('lint', 'high/low')).toContain('a folder that holds this one');
  });
});

describe('what is no file', () => {
  it.skipIf(!HAS_FIFO)('is named and not waited for: a pipe (needs mkfifo)', async () => {
    spawnSync('mkfifo', [join(folder, 'pipe.yaml')]);
    expect(await unread('lint', 'pipe.yaml')).toContain('this is a pipe, not a file');
    mkdirSync(join(folder, 'piped'));
    spawnSync('mkfifo', [join(folder, 'piped/p.yaml')]);
    expect(await unread('lint', 'piped')).toContain('this is a pipe, not a file');
    const profile = await run(['lint', CLEAN, '--profile', 'pipe.yaml']);
    expect([profile.status, profile.stderr]).toEqual([2, expect.stringContaining('this is a pipe, not a file')]);
    const rules = await run(['lint', CLEAN, '--convention-rules', 'pipe.yaml']);
    expect([rules.status, rules.stderr]).toEqual([2, expect.stringContaining('this is a pipe, not a file')]);
  });

  it.skipIf(!existsSync('/dev/zero'))('is named and not read: a device (needs /dev/zero)', async () => {
    expect(await unread('lint', '/dev/zero')).toContain('this is a device, not a file');
  });

  it('is named: a folder where a file is wanted', async () => {
    mkdirSync(join(folder, 'empty'));
    const { status, stderr } = await run(['lint', CLEAN, '--baseline', 'empty']);
    expect([status, stderr]).toEqual([2, expect.stringContaining('there is no plan in this folder')]);
  });
});

describe('the size of a file', () => {
  it('has a limit, which an option raises, for standard input too', async () => {
    const text = `# ${'x'.repeat(3000)}\nrig: Heron\n`;
    file('long.yaml', text);
    expect(await unread('lint', 'long.yaml', '--largest-file', '2k')).toMatch(
      /this has more than 2 kB \| .*`--largest-file 2M`/,
    );
    expect((await run(['--largest-file', '2M', 'lint', 'long.yaml'])).status).toBe(0);
    const piped = await run(['lint', '-', '--largest-file', '2k', '--format', 'json'], { input: text });
    expect([piped.status, piped.stdout]).toEqual([2, expect.stringContaining('this has more than 2 kB')]);
    for (const size of ['2x', '0', '-1', '3G', '1e3'])
      expect(await run(['lint', 'long.yaml', `--largest-file=${size}`])).toMatchObject({ status: 2, stdout: '' });
  });
});

describe('standard input', () => {
  it('is not written in place', async () => {
    const plan = readFileSync(CLASH, 'utf8');
    for (const words of [
      ['merge', '-', CLEAN, '--in-place'],
      ['apply', 'sheet.json', '-', '--in-place'],
    ]) {
      const { status, stderr } = await run(words, { input: plan });
      expect([status, stderr]).toEqual([2, expect.stringContaining('standard input can not be written in place')]);
    }
  });
});

describe('paths inside a file', () => {
  const request = (plans: string): string =>
    readFileSync(join(ROOT, 'examples/kestrel-bay/finish-island/request.yaml'), 'utf8').replace(
      'plans: [../heron, ../dunlin]',
      `plans: [${plans}]`,
    );
  const SECRET = 'root:x:0:0:root:/root:/bin/bash';

  it('of a request lead no further than its own folder, unless an option allows it', async () => {
    mkdirSync(join(folder, 'home/asked'), { recursive: true });
    cpSync(join(ROOT, 'examples/kestrel-bay/heron'), join(folder, 'home/heron'), { recursive: true });
    file('home/asked/request.yaml', request('../heron'));
    const refused = await run(['allocate', 'home/asked/request.yaml']);
    expect([refused.status, refused.stdout]).toEqual([2, '']);
    expect(refused.stderr.replace(/\s+/g, ' ')).toContain('leads out of the folder of the file that names it');
    expect(refused.stderr).not.toContain('cameras.yaml');
    // Where it is named, line and column.
    expect(refused.stderr).toMatch(/request\.yaml \d+:\d+/);
    expect((await run(['allocate', 'home/asked/request.yaml', '--reach', 'home'])).status).toBe(0);
    symlinkSync('../heron', join(folder, 'home/asked/linked'));
    file('home/asked/request.yaml', request('linked'));
    expect((await run(['allocate', 'home/asked/request.yaml'])).status).toBe(2);
  });

  it('of a request show nothing of a file that is no plan', async () => {
    mkdirSync(join(folder, 'nosy'));
    for (const [name, text] of [
      ['secret.yaml', SECRET],
      ['secret.json', `{"${SECRET}`],
      ['secret.csv', `${SECRET},${SECRET}\n${SECRET},1\n`],
      ['secret.sdp', `v=0\n${SECRET}\n`],
      ['secret', SECRET],
    ] as const) {
      file(`nosy/${name}`, text);
      file('nosy/request.yaml', request(name));
      const { status, stdout, stderr } = await run(['allocate', 'nosy/request.yaml']);
      expect([status, stdout], name).toEqual([2, '']);
      expect(stderr, name).toContain("can't be read as a plan");
      expect(stderr.replace(/\s+/g, ''), name).not.toContain('root:x');
      // The cure that is named says more, for there the user names the file.
      const lint = await run(['lint', `nosy/${name}`]);
      expect([lint.status, lint.stdout], name).toEqual([2, expect.stringContaining('UNREAD')]);
    }
  });

  it('of a profile lead no further either: what lies there would be run', async () => {
    mkdirSync(join(folder, 'conventions/rules'), { recursive: true });
    const rule = `export default { id: 'our/x', summary: 's', severity: 'note', sources: [], needs: [], check: () => [], words: () => ({}) };\n`;
    file('conventions/rules/ours.mjs', rule);
    file('theirs.mjs', `globalThis.ranTheirs = true;\n${rule}`);
    file('conventions/profile.yaml', 'conventionRules: [./rules/ours.mjs]\n');
    expect((await run(['lint', CLEAN, '--profile', 'conventions/profile.yaml'])).status).toBe(0);
    file('conventions/profile.yaml', 'conventionRules: [../theirs.mjs]\n');
    const { status, stderr } = await run(['lint', CLEAN, '--profile', 'conventions/profile.yaml']);
    expect([status, stderr]).toEqual([2, expect.stringContaining('outside the folder of the profile')]);
    expect(globalThis).not.toHaveProperty('ranTheirs');
    expect((await run(['lint', CLEAN, '--profile', 'conventions/profile.yaml', '--reach', '.'])).status).toBe(0);
    expect(globalThis).toHaveProperty('ranTheirs');
    delete (globalThis as { ranTheirs?: boolean }).ranTheirs;
  });
});

describe('text from outside', () => {
  const BAD = 'x\u001b[2Jy\nrigproof: all is well';
  it.each([
    ['a plan', ['lint', BAD]],
    ['a command', [BAD]],
    ['an option', ['lint', CLEAN, `--${BAD}`]],
    ['a choice', ['lint', CLEAN, '--format', BAD]],
    ['a choice with its option', ['lint', CLEAN, `--format=${BAD}`]],
    ['a profile', ['lint', CLEAN, '--profile', BAD]],
    ['a baseline', ['lint', CLEAN, '--baseline', BAD]],
    ['a convention rule', ['lint', CLEAN, '--convention-rules', BAD]],
    ['an output', ['lint', CLEAN, '--output', `nowhere/${BAD}`]],
    ['a rule', ['explain', BAD]],
    ['a rig', ['merge', CLEAN, CLASH, '--keep', BAD]],
    ['a tie', ['merge', CLEAN, CLASH, '--tie', BAD]],
    ['a sheet', ['apply', BAD, CLEAN, '--in-place']],
    ['sheets', ['sheets', CLEAN, '--only', BAD]],
    ['a date', ['lint', CLEAN, '--today', BAD]],
    ['a stream', ['trace', CLEAN, BAD]],
    ['a format', ['rate', BAD]],
    ['a folder to settle', ['settle', BAD]],
    ['a limit', ['lint', CLEAN, '--largest-file', BAD]],
    ['a format of standard input', ['lint', '-', '--stdin-format', BAD]],
  ])('is shown and not obeyed: %s', async (_, words) => {
    const { status, stdout, stderr } = await run(words);
    expect(status).toBe(2);
    expect(stdout + stderr).not.toMatch(/[\u0000-\u0009\u000b-\u001f\u007f-\u009f]/);
    expect(stdout + stderr).not.toMatch(/^rigproof: all is well/m);
  });

  it('is shown and not obeyed: a key of a profile', async () => {
    file('odd-profile.yaml', '"severi\\e[2Jty": {}\nthresholds: {"a\\e[2J": 1}\n');
    const { status, stderr } = await run(['lint', CLEAN, '--profile', 'odd-profile.yaml']);
    expect(status).toBe(2);
    expect(stderr).not.toMatch(/\u001b/);
  });
});
