/** The command line as a user meets it: real files, exit codes, streams. */
import { existsSync, mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { Ajv } from 'ajv';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { run as runProgram, type Run, type RunOptions } from '../tools/run-program.js';

const ROOT = fileURLToPath(new URL('../..', import.meta.url));
const CLASH = join(ROOT, 'rules/groups/two-senders/bad.yaml');
const CLEAN = join(ROOT, 'rules/groups/two-senders/good.yaml');
let folder = '';

beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'rigproof-cli-'));
});
afterAll(() => {
  rmSync(folder, { recursive: true, force: true });
});

function run(words: readonly string[], options: RunOptions = {}): Promise<Run> {
  return runProgram(words, { cwd: folder, ...options });
}

function file(name: string, text: string): string {
  const path = join(folder, name);
  writeFileSync(path, text);
  return path;
}

describe('exit codes', () => {
  it('0 for a clean plan, with the caution', async () => {
    const { status, stdout, stderr } = await run(['lint', CLEAN]);
    expect([status, stderr]).toEqual([0, '']);
    expect(stdout.replace(/\s+/g, ' ')).toContain('A clean result is a check on paper, not proof for air.');
  });

  it('1 for findings at or above --fail-at, 0 for findings below', async () => {
    expect((await run(['lint', CLASH])).status).toBe(1);
    const warning = file(
      'warning.yaml',
      'devices:\n  - name: a\n    senders: [{name: v, legs: [{group: 239.10.1.3, port: 5004}]}, {name: w, legs: [{group: 239.10.1.3, port: 5006}]}]\n',
    );
    expect((await run(['lint', warning])).status).toBe(0);
    expect((await run(['lint', warning, '--fail-at', 'warning'])).status).toBe(1);
  });

  it.each([
    ['an unreadable plan', ['lint', 'broken.yaml'], 'broken.yaml'],
    ['a file that is not there', ['lint', 'nowhere.yaml'], 'nowhere.yaml'],
    ['an empty folder', ['lint', '.empty'], 'no plan in this folder'],
  ])('2 for %s, named in the report', async (_, words, said) => {
    file('broken.yaml', 'devices: 3\n');
    mkdirSync(join(folder, '.empty'), { recursive: true });
    const { status, stdout, stderr } = await run(words);
    expect(status).toBe(2);
    expect(stdout).toContain(said);
    expect(stdout + stderr).not.toMatch(/\bat .*\.[jt]s:\d/);
  });

  it.each([
    ['no command', [], 'Usage'],
    ['an unknown command', ['lnt'], 'lint'],
    ['an unknown option', ['lint', CLEAN, '--formt', 'json'], '--format'],
    ['an unknown format', ['lint', CLEAN, '--format', 'html'], 'json'],
    ['a wrong date', ['lint', CLEAN, '--today', 'tomorrow'], 'YYYY-MM-DD'],
    ['a date that is none', ['lint', CLEAN, '--today', '2026-13-40'], 'YYYY-MM-DD'],
    ['a narrow width', ['lint', CLEAN, '--width', '10'], '40'],
    ['a missing profile', ['lint', CLEAN, '--profile', 'nowhere.yaml'], 'nowhere.yaml'],
    ['a missing baseline', ['lint', CLEAN, '--baseline', 'nowhere.json'], 'nowhere.json'],
    ['a missing house rule file', ['lint', CLEAN, '--house-rules', 'nowhere.mjs'], 'nowhere.mjs'],
    ['an unknown rule to explain', ['explain', 'groups/two-sender'], 'groups/two-senders'],
  ])('2 for %s, with what to write instead', async (_, words, said) => {
    const { status, stderr } = await run(words);
    expect(status).toBe(2);
    expect(stderr).toContain(said);
    expect(stderr).not.toMatch(/\bat .*\.[jt]s:\d/);
  });

  it('3 for a house rule that throws, by name; the others still run', async () => {
    const rules = file(
      'throws.mjs',
      "export default { id: 'house/throws', summary: 'Throws', severity: 'note', sources: [], needs: [], check() { throw new Error('on purpose'); } };\n",
    );
    const { status, stdout } = await run(['lint', CLASH, '--house-rules', rules]);
    expect(status).toBe(3);
    expect(stdout).toContain('house/throws');
    expect(stdout).toContain('239.10.1.1');
  });
});

describe('inputs', () => {
  it('standard input is a plan, told by its start', async () => {
    const yaml = await run(['lint', '-', '--format', 'json'], { input: readFileSync(CLASH, 'utf8') });
    expect(yaml.status).toBe(1);
    expect(yaml.stdout).toContain('<stdin>');
    expect((await run(['lint', '-'], { input: '{"devices": [{"name": "cam-1"}]}' })).status).toBe(0);
    const csv = await run(['lint', '-'], { input: 'name,group,port\na,239.10.1.1,5004\nb,239.10.1.1,5004\n' });
    expect(csv.status).toBe(1);
    const sdp = await run(['lint', '-', '--stdin-format', 'sdp'], {
      input:
        'v=0\r\no=- 1 1 IN IP4 10.0.0.1\r\ns=a\r\nt=0 0\r\nm=video 5004 RTP/AVP 96\r\nc=IN IP4 225.1.1.1/32\r\na=rtpmap:96 raw/90000\r\n',
    });
    expect(sdp.status).toBe(1);
    expect(sdp.stdout).toContain('225.1.1.1');
  });

  it('several files are one rig, and every finding names its file', async () => {
    const first = file(
      'first.yaml',
      'devices: [{name: a, senders: [{name: v, legs: [{group: 239.10.1.1, port: 5004}]}]}]\n',
    );
    const second = file('second.csv', 'name,group,port\nb,239.10.1.1,5004\n');
    const { status, stdout } = await run(['lint', first, second, '--format', 'json']);
    expect(status).toBe(1);
    const { findings } = JSON.parse(stdout) as {
      readonly findings: readonly {
        readonly at: { readonly file: string };
        readonly others: readonly { readonly file: string }[];
      }[];
    };
    expect(findings.flatMap((one) => [one.at.file, ...one.others.map((other) => other.file)]).sort()).toEqual([
      first,
      second,
    ]);
  });

  it('the same file named twice is read once', async () => {
    const one = file(
      'once.yaml',
      'devices: [{name: a, senders: [{name: v, legs: [{group: 239.10.1.1, port: 5004}]}]}]\n',
    );
    expect((await run(['lint', one, one])).status).toBe(0);
  });

  it('opening a plan runs no code from it', async () => {
    const trap = join(folder, 'trap');
    file(
      'evil.mjs',
      `import { writeFileSync } from 'node:fs'; writeFileSync(${JSON.stringify(trap)}, ''); export default [];\n`,
    );
    const plan = file(
      'evil.yaml',
      'houseRules: [./evil.mjs]\nrig: "$(touch trap)"\ndevices: [{name: "`touch trap`"}]\n',
    );
    expect((await run(['lint', plan])).status).toBe(2); // an unknown key, and nothing more
    expect(existsSync(trap)).toBe(false);
  });
});

describe('house rules and profiles', () => {
  const rule =
    "export default { id: 'house/no-cam', summary: 'No cam', severity: 'error', sources: [], needs: [], *check({ plan }) { for (const device of plan.devices) yield { subject: device.name, facts: { name: device.name }, at: { place: { document: device.origin.document, container: device.origin.container, key: 'name' }, label: device.name }, touch: { kind: 'device', name: device.name } }; }, words: ({ name }) => ({ what: name + ' is a cam', onAir: 'x', fix: 'y' }) };\n";

  it('run from the command line', async () => {
    const { status, stdout } = await run([
      'lint',
      file('cams.yaml', 'devices: [{name: cam-1}]\n'),
      '--house-rules',
      file('cam.mjs', rule),
    ]);
    expect(status).toBe(1);
    expect(stdout).toContain('cam-1 is a cam');
  });

  it('run from a profile, relative to it, with its severity', async () => {
    file('cam.mjs', rule);
    const profile = file('house.yaml', 'houseRules: [./cam.mjs]\nseverity: {house/no-cam: note}\n');
    const { status, stdout } = await run([
      'lint',
      file('cams.yaml', 'devices: [{name: cam-1}]\n'),
      '--profile',
      profile,
    ]);
    expect(status).toBe(0);
    expect(stdout).toContain('NOTE');
  });

  it.each([
    [
      'of a taken name',
      "export default { id: 'groups/two-senders', summary: 'x', severity: 'error', sources: [], needs: [], check() {} };",
      'exists already',
    ],
    [
      'without a check',
      "export default { id: 'house/x', summary: 'x', severity: 'error', sources: [], needs: [] };",
      'check',
    ],
    [
      'with an unknown severity',
      "export default { id: 'house/x', summary: 'x', severity: 'fatal', sources: [], needs: [], check() {} };",
      'severity',
    ],
    [
      'with an unknown fact',
      "export default { id: 'house/x', summary: 'x', severity: 'error', sources: [], needs: ['magic'], check() {} };",
      'magic',
    ],
    ['that is no module', 'export default {', 'loaded'],
  ])('%s are refused in words', async (name, text, said) => {
    const { status, stderr } = await run([
      'lint',
      CLEAN,
      '--house-rules',
      file(`${name.replace(/\W/g, '-')}.mjs`, text),
    ]);
    expect(status).toBe(2);
    expect(stderr).toContain(said);
  });
});

describe('files written', () => {
  it('a report goes to a file whole, and never over one unless told', async () => {
    const out = join(folder, 'report.json');
    expect((await run(['lint', CLASH, '--format', 'json', '--output', out])).status).toBe(1);
    const text = readFileSync(out, 'utf8');
    expect(JSON.parse(text)).toMatchObject({ findings: [{}, {}] });
    const again = await run(['lint', CLEAN, '--format', 'json', '--output', out]);
    expect(again.status).toBe(2);
    expect(again.stderr).toContain('--force');
    expect(readFileSync(out, 'utf8')).toBe(text);
    expect((await run(['lint', CLEAN, '--format', 'json', '--output', out, '--force'])).status).toBe(0);
    expect(readFileSync(out, 'utf8')).not.toBe(text);
  });

  it("a baseline accepts today's findings; stale entries are named", async () => {
    const baseline = join(folder, 'base.json');
    expect((await run(['lint', CLASH, '--write-baseline', baseline])).status).toBe(0);
    const { status, stdout } = await run(['lint', CLASH, '--baseline', baseline]);
    expect(status).toBe(0);
    expect(stdout).toContain('2 known from the baseline');
    const clean = await run(['lint', CLEAN, '--baseline', baseline]);
    expect(clean.status).toBe(0);
    expect(clean.stdout).toContain('239.10.1.1 in red-video');
  });
});

describe('reports', () => {
  it('JSON keeps to its schema and is all of standard output', async () => {
    const schema = JSON.parse(readFileSync(join(ROOT, 'schemas/report.schema.json'), 'utf8')) as object;
    const check = new Ajv({ strict: true, allErrors: true, allowUnionTypes: true }).compile(schema);
    for (const plan of [CLASH, CLEAN]) {
      expect(
        check(JSON.parse((await run(['lint', plan, '--format', 'json'])).stdout)),
        JSON.stringify(check.errors),
      ).toBe(true);
    }
  });

  it('colour is for terminals, --colour always, and never against NO_COLOR', async () => {
    const escape = /\u001b/;
    expect((await run(['lint', CLASH])).stdout).not.toMatch(escape);
    expect((await run(['lint', CLASH, '--colour', 'always'])).stdout).toMatch(escape);
    expect((await run(['lint', CLASH], { env: { NO_COLOR: '1', FORCE_COLOR: '1' } })).stdout).not.toMatch(escape);
  });
});

describe('trace, failures and delay', () => {
  const heron = join(ROOT, 'examples/kestrel-bay/heron');
  const validator = (name: string): ReturnType<Ajv['compile']> =>
    new Ajv({ strict: true, allErrors: true, allowUnionTypes: true }).compile(
      JSON.parse(readFileSync(join(ROOT, `schemas/${name}.schema.json`), 'utf8')) as object,
    );

  it('0 with an answer that ends in the caution', async () => {
    for (const words of [
      ['trace', heron, 'cam-11/video'],
      ['failures', heron],
      ['failures', heron, '--lose', 'red-core'],
      ['delay', heron],
      ['delay', heron, '--stream', 'cam-11/video'],
    ]) {
      const { status, stdout, stderr } = await run(words);
      expect([status, stderr]).toEqual([0, '']);
      expect(stdout.replace(/\s+/g, ' ')).toMatch(/local codes and competent testing\. $/);
    }
  });

  it('JSON keeps to its schema and is all of standard output', async () => {
    const trace = validator('trace');
    expect(
      trace(JSON.parse((await run(['trace', heron, 'cam-11/video', '--format', 'json'])).stdout)),
      JSON.stringify(trace.errors),
    ).toBe(true);
    const failures = validator('failures');
    expect(
      failures(JSON.parse((await run(['failures', heron, '--all', '--format', 'json'])).stdout)),
      JSON.stringify(failures.errors),
    ).toBe(true);
    const delay = validator('delay');
    expect(
      delay(JSON.parse((await run(['delay', heron, '--format', 'json'])).stdout)),
      JSON.stringify(delay.errors),
    ).toBe(true);
    file('broken.yaml', 'devices: 3\n');
    expect(
      delay(JSON.parse((await run(['delay', 'broken.yaml', '--format', 'json'])).stdout)),
      JSON.stringify(delay.errors),
    ).toBe(true);
    expect(
      trace(JSON.parse((await run(['trace', 'broken.yaml', 'x', '--format', 'json'])).stdout)),
      JSON.stringify(trace.errors),
    ).toBe(true);
    expect(
      failures(JSON.parse((await run(['failures', 'broken.yaml', '--format', 'json'])).stdout)),
      JSON.stringify(failures.errors),
    ).toBe(true);
  });

  it.each([
    ['an unknown stream', ['trace', heron, 'cam-11/vidoe'], 'cam-11/video'],
    ['no stream', ['trace', heron], 'name the plan and then the stream'],
    ['an unknown stream of a delay', ['delay', heron, '--stream', 'cam-11/vidoe'], 'cam-11/video'],
    ['an unknown element', ['failures', heron, '--lose', 'red-cor'], 'red-core'],
    ['an unknown format', ['failures', heron, '--format', 'sarif'], 'csv'],
    ['a format of another command', ['trace', heron, 'cam-11/video', '--format', 'csv'], 'json'],
  ])('2 for %s, with what to write instead', async (_, words, said) => {
    const { status, stdout, stderr } = await run(words);
    expect([status, stdout]).toEqual([2, '']);
    expect(stderr).toContain(said);
    expect(stderr).not.toMatch(/\bat .*\.[jt]s:\d/);
  });

  it('2 for a plan that can not be read, named as lint names it', async () => {
    file('broken.yaml', 'devices: 3\n');
    const [first] = (await run(['lint', 'broken.yaml'])).stdout.split('SUMMARY');
    for (const words of [
      ['trace', 'broken.yaml', 'cam-1/video'],
      ['failures', 'broken.yaml'],
      ['delay', 'broken.yaml'],
    ]) {
      const { status, stdout } = await run(words);
      expect(status).toBe(2);
      expect(stdout.startsWith(first ?? 'nothing')).toBe(true);
    }
    const csv = await run(['failures', 'broken.yaml', '--format', 'csv']);
    expect([csv.status, csv.stdout]).toEqual([2, '']);
    expect(csv.stderr).toContain('broken.yaml');
  });

  it('an unknown name is shown, not obeyed', async () => {
    const { status, stderr } = await run(['trace', heron, 'cam\u001b[2J/video']);
    expect(status).toBe(2);
    expect(stderr).toContain('cam\\u{1b}[2J/video');
  });

  it('an answer goes to a file whole, and never over one unless told', async () => {
    const out = join(folder, 'failures.csv');
    expect((await run(['failures', heron, '--format', 'csv', '--output', out])).status).toBe(0);
    expect(readFileSync(out, 'utf8')).toMatch(/^"rank",/);
    expect(await run(['trace', heron, 'cam-11/video', '--output', out])).toMatchObject({ status: 2, stdout: '' });
    expect((await run(['trace', heron, 'cam-11/video', '--output', out, '--force'])).status).toBe(0);
    expect(readFileSync(out, 'utf8')).toContain('STREAM cam-11/video');
  });
});

describe('rules and explain', () => {
  it('list every rule and print the page of each', async () => {
    const list = await run(['rules']);
    expect(list.status).toBe(0);
    const ids = [...list.stdout.matchAll(/^ {2}([a-z]+\/[a-z-]+) /gm)].map((match) => match[1] ?? '');
    expect(ids).toContain('groups/two-senders');
    const page = await run(['explain', 'groups/two-senders']);
    expect(page.status).toBe(0);
    expect(page.stdout).toContain('## On air');
    expect(page.stdout).toContain('RFC 1112');
  });
});
