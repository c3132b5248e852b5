/** The first page as a user meets it: alone, in part, on a phone; and what was written where. */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import { CLASH, CLEAN, file, folder, inOwnFolder, run } from '../tools/cli-folder.js';
import { measure } from '../../src/draw/width.js';

inOwnFolder();

const BROKEN = fileURLToPath(new URL('../../examples/kestrel-bay/heron-broken', import.meta.url));
const TODAY = ['--today', '2026-06-01'];

const lint = (...words: readonly string[]) => run(['lint', BROKEN, ...TODAY, ...words]);

/** Numbers of the lines of the first page, and of the blocks below it. */
function numbersIn(text: string): { readonly lines: readonly string[]; readonly blocks: readonly string[] } {
  const [front = ''] = text.split('\n\n');
  return {
    lines: [...front.matchAll(/^ {0,2}(\d+) {3}\S/gm)].map(([, number = '']) => number),
    blocks: [...text.matchAll(/^TASK (\d+) of \d+:/gm)].map(([, number = '']) => number),
  };
}

describe('the first page', () => {
  it('has a line a cause and the number of its block, before everything else', async () => {
    const { stdout, status } = await lint('--width', '100');
    expect(status).toBe(1);
    const { lines, blocks } = numbersIn(stdout);
    const [, causes, tasks] = /^(\d+) CAUSES IN (\d+) TASKS/.exec(stdout) ?? [];
    expect(lines).toHaveLength(Number(causes));
    expect(blocks).toEqual(Array.from({ length: Number(tasks) }, (_, index) => String(index + 1)));
    expect([...new Set(lines)].map(Number).toSorted((a, b) => a - b)).toEqual(blocks.map(Number));
    expect(stdout).toMatch(/^ {2}2 {3}home-gateway\/programme: legs swapped; no picture$/m);
  });

  it('alone has no blocks, and still says the verdict and what is left open', async () => {
    const { stdout, status } = await lint('--front');
    const whole = numbersIn((await lint()).stdout);
    expect(status).toBe(1);
    expect(numbersIn(stdout)).toEqual({ lines: whole.lines, blocks: [] });
    expect(stdout).toContain('Verdict     24 errors, 19 warnings and 1 note in 40 tasks.');
    expect(stdout).toContain('was not judged; `--fail-at unjudged`');
    expect(stdout).toContain('A clean result is a check on paper');
    expect((await run(['lint', CLEAN, '--front'])).stdout).toMatch(/^VERDICT\n/);
  });

  it('says where the effect on receivers was not followed', async () => {
    expect((await lint('--front')).stdout).toContain('Effect on receivers not followed\n');
    expect((await run(['lint', CLASH])).stdout).toContain('Effect on receivers not followed\n');
  });

  it('fits forty columns, and names a file once for the places in it', async () => {
    const { stdout } = await lint('--width', '40');
    for (const line of stdout.split('\n')) if (measure(line) > 40) expect(line.trim().split(/\s{1,2}/)).toHaveLength(1);
    const [, block = ''] = stdout.split('TASK 2 of 40');
    expect(block.split('TASK 3 of 40')[0]?.match(/core\.yaml/g)).toHaveLength(2);
    const before = (await lint('--width', '100')).stdout.split('\n').length;
    expect(stdout.split('\n').length).toBeLessThan(2.5 * before);
  });

  it('tells of receivers that get nothing by what is accepted', async () => {
    await lint('--write-baseline', join(folder, 'all.json'));
    const { stdout } = await lint('--baseline', join(folder, 'all.json'));
    expect(stdout).not.toContain('CAUSES');
    const baseline = JSON.parse(readFileSync(join(folder, 'all.json'), 'utf8')) as { findings: { rule: string }[] };
    const some = { ...baseline, findings: baseline.findings.filter(({ rule }) => rule.startsWith('receivers/')) };
    const part = await lint('--baseline', file('some.json', JSON.stringify(some)), '--front', '--width', '200');
    expect(part.stdout).toContain(
      'home-gateway/programme gets nothing, and no line says why: it is accepted, or no rule finds it.',
    );
  });
});

describe('the first page of a merge', () => {
  it('tells of receivers that get nothing by what a rig has alone', async () => {
    const bay = (name: string): string => fileURLToPath(new URL(`../../examples/kestrel-bay/${name}`, import.meta.url));
    const { stdout } = await run(['merge', bay('heron'), bay('dunlin-broken'), '--width', '200', ...TODAY]);
    expect(stdout).toMatch(/nothing, and no line says why: it is accepted, or a rig has it alone, or no rule finds it/);
    expect(stdout).toMatch(/^ {2}\d {3}Dunlin: .*; no sound at /m);
  });
});

describe('a part of the report', () => {
  it.each([
    ['an area', ['--area', 'receivers'], '2 of 44 causes shown: area receivers.'],
    ['a severity', ['--severity', 'note'], '1 of 44 causes shown: severity note.'],
    ['a device', ['--device', 'home-gateway'], '1 of 44 causes shown: device home-gateway.'],
    [
      'a switch and a severity',
      ['--device', 'ctl-finish', '--severity', 'error'],
      'severity error, device ctl-finish.',
    ],
  ])('by %s keeps numbers and exit code, and says what it leaves out', async (_, words, said) => {
    const whole = await lint('--width', '100');
    const { stdout, status } = await lint(...words, '--width', '100');
    expect(status).toBe(whole.status);
    expect(stdout).toContain(said);
    const { lines, blocks } = numbersIn(stdout);
    expect(lines.length).toBeGreaterThan(0);
    expect(lines.length).toBeLessThan(10);
    expect([...new Set(lines)].toSorted()).toEqual([...blocks].toSorted());
    const heading = new RegExp(`^TASK ${blocks[0] ?? ''} of 40: .*$`, 'm');
    expect(heading.exec(stdout)?.[0]).toBe(heading.exec(whole.stdout)?.[0]);
  });

  it('holds whatever a device has to do with, as the box of the fault, its stream or its receiver', async () => {
    const { stdout } = await lint('--device', 'multiviewer', '--front', '--width', '200');
    expect(stdout).toContain('vision-core/line-up: two senders on one group; multiviewer/aux-12');
    expect(stdout).not.toContain('home-gateway');
  });

  it.each([
    ['an area nobody has', ['--area', 'igpm'], 'no area is called `igpm`; did you mean `igmp`?; the areas are'],
    ['a device nobody has', ['--device', 'home-gatway'], 'did you mean `home-gateway`?'],
    ['a severity there is not', ['--severity', 'fatal'], 'error, warning, note'],
    ['JSON', ['--front', '--format', 'json'], 'choose from the text; json always has all'],
    ['SARIF', ['--area', 'igmp', '--format', 'sarif'], 'choose from the text; sarif always has all'],
  ])('is refused for %s', async (_, words, said) => {
    const { status, stdout, stderr } = await lint(...words);
    expect([status, stdout]).toEqual([2, '']);
    expect(stderr).toContain(said);
  });

  it('shows hostile names as text', async () => {
    const { stderr } = await lint('--device', 'x\u001b[2J');
    expect(stderr).toContain('x\\u{1b}[2J');
  });
});

describe('what was written where', () => {
  it('is said, on the stream that the report leaves free', async () => {
    const both = await run(['lint', CLASH, '--output', 'r.txt', '--write-baseline', 'b.json'], { cwd: folder });
    expect(both.stdout).toBe(
      'r.txt: the report, 1 error and 1 warning\nb.json: a baseline that accepts 2 findings; give it with --baseline\n',
    );
    expect(both.stderr).toBe('');
    const json = await run(['lint', CLASH, '--format', 'json', '--write-baseline', 'c.json'], { cwd: folder });
    expect(() => JSON.parse(json.stdout) as unknown).not.toThrow();
    expect(json.stderr).toBe('c.json: a baseline that accepts 2 findings; give it with --baseline\n');
    const clean = await run(['failures', CLEAN, '--output', 'f.txt'], { cwd: folder });
    expect(clean.stdout).toBe('f.txt: the report\n');
  });
});
