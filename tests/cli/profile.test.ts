/** Every command that takes a profile refuses the same ones, and runs the conventions' rules. */
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { run, type Run } from '../tools/run-program.js';

const NO_CAM = `export default { id: 'conventions/no-cam', summary: 'No cam', severity: 'error', sources: [], needs: [], *check({ plan }) {
  for (const device of plan.devices) yield { subject: device.name, facts: { name: device.name },
    at: { place: { document: device.origin.document, container: device.origin.container, key: 'name' }, label: device.name },
    touch: { kind: 'device', name: device.name } };
}, words: ({ name }) => ({ what: name + ' is a cam', onAir: 'x', fix: 'y' }) };
`;
let folder = '';

beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'rigproof-profile-'));
  file('heron.yaml', 'rig: Heron\ndevices: [{name: cam-1}]\n');
  file('dunlin.yaml', 'rig: Dunlin\ndevices: [{name: cam-2}]\n');
  file('no-cam.mjs', NO_CAM);
});
afterAll(() => {
  rmSync(folder, { recursive: true, force: true });
});

function file(name: string, text: string): string {
  writeFileSync(join(folder, name), text);
  return name;
}

const COMMANDS: readonly (readonly [string, readonly string[]])[] = [
  ['lint', ['lint', 'heron.yaml']],
  ['merge', ['merge', 'heron.yaml', 'dunlin.yaml', '--own']],
];

describe.each(COMMANDS)('%s', (_, words) => {
  const judge = (...more: readonly string[]): Promise<Run> => run([...words, ...more], { cwd: folder });

  it.each([
    ['an unknown rule', 'severity:\n  groups/two-sender: off\n', 'line 2, column 3', '`groups/two-senders`'],
    [
      'an unknown threshold',
      'thresholds: {subnets/nearly-full.percnt: 5}\n',
      'line 1, column 14',
      'nearly-full.percent',
    ],
    ['a wrong key', 'severty: {}\n', 'line 1, column 1', 'write `severity`'],
    ['a wrong severity', 'severity: {groups/two-senders: of}\n', 'line 1, column 32', 'write `off`'],
    ['a threshold in words', 'thresholds: {subnets/nearly-full.percent: much}\n', 'line 1, column 43', 'a number'],
    [
      'a convention rule file that is not there',
      'conventionRules: [./nowhere.mjs]\n',
      'line 1, column 19',
      'nowhere.mjs',
    ],
  ])('refuses a profile with %s, at its place', async (_what, text, where, instead) => {
    const { status, stdout, stderr } = await judge('--profile', file('wrong.yaml', text));
    expect([status, stdout]).toEqual([2, '']);
    expect(stderr).toContain(`rigproof: wrong.yaml ${where}: `);
    expect(stderr).toContain(instead);
    expect(stderr).not.toMatch(/\bat .*\.[jt]s:\d/);
  });

  it('refuses a profile that is not there, and one that is a folder', async () => {
    expect((await judge('--profile', 'nowhere.yaml')).stderr).toBe(
      'rigproof: nowhere.yaml: there is no such file or folder; check the path\n',
    );
    expect((await judge('--profile', '.')).stderr).toContain('this is a folder of several files; name one of them');
  });

  it('shows what a hostile profile says as text', async () => {
    const { stderr } = await judge('--profile', file('hostile.yaml', '"\\e[2J\\u202e": 1\n'));
    expect(stderr).toContain('\\u{1b}[2J\\u{202e}');
    expect(stderr).not.toContain('\u001b');
  });

  it("runs the conventions' rules from a profile and from the command line", async () => {
    const own = file('conventions.yaml', 'conventionRules: [./no-cam.mjs]\nseverity: {conventions/no-cam: warning}\n');
    const profiled = await judge('--profile', own);
    expect([profiled.status, profiled.stderr]).toEqual([0, '']);
    expect(profiled.stdout).toContain('cam-1 is a cam');
    const named = await judge('--convention-rules', 'no-cam.mjs');
    expect([named.status, named.stderr]).toEqual([1, '']);
    expect(named.stdout).toContain('cam-1 is a cam');
  });
});

describe('a rule of the conventions', () => {
  let files = 0;
  /** The rule of this file with other members; each in a file of its own, for a module is loaded once. */
  const lint = (changed: string, ...more: readonly string[]): Promise<Run> => {
    const own = `${NO_CAM.replace('export default', 'const own =')} export default { ...own, id: 'our/cam', ...${changed} };`;
    return run(['lint', 'heron.yaml', '--convention-rules', file(`our-${files++}.mjs`, own), ...more], { cwd: folder });
  };

  it('as the README shows one is found, run and worded', async () => {
    const readme = readFileSync(new URL('../../README.md', import.meta.url), 'utf8');
    const code = /```js\n(export default[\s\S]*?)```/.exec(readme)?.[1] ?? '';
    file('one.yaml', 'rig: Heron\nvlans: [{name: red-video, id: 1}]\n');
    const { status, stdout, stderr } = await run(['lint', 'one.yaml', '--convention-rules', file('shown.mjs', code)], {
      cwd: folder,
    });
    expect([status, stderr]).toEqual([0, '']);
    expect(stdout).toContain('WARNING   VLAN red-video has the id 1');
    expect(stdout).toContain('one.yaml 2:');
  });

  it.each([
    ['a source that is none', "{ sources: ['RFC 1'] }", 'has a source that is neither'],
    ['thresholds without what they limit', '{ thresholds: { most: 3 } }', 'has `thresholds` that are not'],
    ['a reason there is not', "{ explains: ['bad luck'] }", 'explains what is not one of'],
    ['a stage there is not', "{ stage: 'late' }", 'the `stage` of `our/cam` is not `waivers`'],
  ])('with %s is refused by name', async (_, changed, said) => {
    const { status, stderr } = await lint(changed);
    expect(status).toBe(2);
    expect(stderr).toContain('`our/cam`');
    expect(stderr).toContain(said);
    expect(stderr).not.toContain('fault of the program');
  });

  const NOTED = `*check(context) { for (const found of own.check(context)) yield { ...found, at: { ...found.at, note: 1 } }; }`;
  it.each([
    ['no words', '() => undefined', '`words` gives no object'],
    ['words that are no text', '() => ({ what: 3 })', '`what` is no text'],
    ['words that throw', "() => { throw new Error('lost') }", "can't word it: lost"],
    [
      'a label that throws',
      "() => ({ what: 'w', onAir: 'a', fix: 'f', label: () => { throw 1 } })",
      "can't word it: 1",
    ],
  ])('with %s is named, in every form', async (_, words, said) => {
    for (const format of ['text', 'json', 'sarif']) {
      const { status, stdout, stderr } = await lint(`{ ${NOTED}, words: ${words} }`, '--format', format);
      expect([status, stderr]).toEqual([1, '']);
      expect(stdout.replace(/\s+/g, ' ')).toContain('our/cam found something about cam-1');
      expect(stdout.replace(/\s+/g, ' ')).toContain(said);
    }
  });
});

describe('a baseline', () => {
  it('with a slip is refused at its place', async () => {
    const text = '{"rigproofBaseline": 1,\n "findings": [{"rule": "a/b", "subjct": "a", "parties": []}]}';
    const { status, stderr } = await run(['lint', 'heron.yaml', '--baseline', file('base.json', text)], {
      cwd: folder,
    });
    expect(status).toBe(2);
    expect(stderr).toContain('base.json line 2, column 31: unknown key `subjct`');
    expect(stderr).toContain('write `subject`');
  });
});
