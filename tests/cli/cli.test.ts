/** The command line as a user meets it: real files, exit codes, streams. */
import { existsSync, mkdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import { CLASH, CLEAN, run, file, folder, inOwnFolder } from '../tools/cli-folder.js';

inOwnFolder();

const HERON = fileURLToPath(new URL('../../examples/kestrel-bay/heron', import.meta.url));

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

  it('1 for a part that was not judged, where --fail-at says so, and a last line that says so where it does not', async () => {
    const plain = await run(['lint', CLEAN]);
    expect(plain.status).toBe(0);
    expect(plain.stdout.trimEnd().split('\n').slice(-2).join(' ')).toContain('was not judged; `--fail-at unjudged`');
    expect((await run(['lint', CLEAN, '--fail-at', 'unjudged'])).status).toBe(1);
    const heron = await run(['lint', HERON, '--fail-at', 'unjudged', '--today', '2026-06-01']);
    expect(heron.status).toBe(0);
    expect(heron.stdout).toContain('Clean: ');
    expect(heron.stdout).not.toContain('was not judged');
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
    ['a missing convention rule file', ['lint', CLEAN, '--convention-rules', 'nowhere.mjs'], 'nowhere.mjs'],
    ['an unknown rule to explain', ['explain', 'groups/two-sender'], 'groups/two-senders'],
  ])('2 for %s, with what to write instead', async (_, words, said) => {
    const { status, stderr } = await run(words);
    expect(status).toBe(2);
    expect(stderr).toContain(said);
    expect(stderr).not.toMatch(/\bat .*\.[jt]s:\d/);
  });

  it('3 for a convention rule that throws, by name; the others still run', async () => {
    const rules = file(
      'throws.mjs',
      "export default { id: 'conventions/throws', summary: 'Throws', severity: 'note', sources: [], needs: [], check() { throw new Error('on purpose'); }, words() {} };\n",
    );
    const { status, stdout } = await run(['lint', CLASH, '--convention-rules', rules]);
    expect(status).toBe(3);
    expect(stdout).toContain('conventions/throws');
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
      'conventionRules: [./evil.mjs]\nrig: "$(touch trap)"\ndevices: [{name: "`touch trap`"}]\n',
    );
    expect((await run(['lint', plan])).status).toBe(2); // an unknown key, and nothing more
    expect(existsSync(trap)).toBe(false);
  });
});

describe('convention rules and profiles', () => {
  const rule =
    "export default { id: 'conventions/no-cam', summary: 'No cam', severity: 'error', sources: [], needs: [], *check({ plan }) { for (const device of plan.devices) yield { subject: device.name, facts: { name: device.name }, at: { place: { document: device.origin.document, container: device.origin.container, key: 'name' }, label: device.name }, touch: { kind: 'device', name: device.name } }; }, words: ({ name }) => ({ what: name + ' is a cam', onAir: 'x', fix: 'y' }) };\n";

  it('run from the command line', async () => {
    const { status, stdout } = await run([
      'lint',
      file('cams.yaml', 'devices: [{name: cam-1}]\n'),
      '--convention-rules',
      file('cam.mjs', rule),
    ]);
    expect(status).toBe(1);
    expect(stdout).toContain('cam-1 is a cam');
  });

  it('run from a profile, relative to it, with its severity', async () => {
    file('cam.mjs', rule);
    const profile = file('conventions.yaml', 'conventionRules: [./cam.mjs]\nseverity: {conventions/no-cam: note}\n');
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
      "export default { id: 'groups/two-senders', summary: 'x', severity: 'error', sources: [], needs: [], check() {}, words() {} };",
      'exists already',
    ],
    [
      'without a check',
      "export default { id: 'conventions/x', summary: 'x', severity: 'error', sources: [], needs: [] };",
      'check',
    ],
    [
      'with an unknown severity',
      "export default { id: 'conventions/x', summary: 'x', severity: 'fatal', sources: [], needs: [], check() {} };",
      'severity',
    ],
    [
      'with an unknown fact',
      "export default { id: 'conventions/x', summary: 'x', severity: 'error', sources: [], needs: ['magic'], check() {} };",
      'magic',
    ],
    ['that is no module', 'export default {', 'loaded'],
  ])('%s are refused in words', async (name, text, said) => {
    const { status, stderr } = await run([
      'lint',
      CLEAN,
      '--convention-rules',
      file(`${name.replace(/\W/g, '-')}.mjs`, text),
    ]);
    expect(status).toBe(2);
    expect(stderr).toContain(said);
  });
});
