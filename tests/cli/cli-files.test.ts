/** What commands write, report, trace and explain. */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { Ajv } from 'ajv';
import { describe, expect, it } from 'vitest';
import { ROOT, CLASH, CLEAN, run, file, folder, inOwnFolder } from '../tools/cli-folder.js';

inOwnFolder();

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

  it('neither a baseline nor a waiver makes a broken rig clean: nothing new, so many known', async () => {
    const broken = join(ROOT, 'examples/kestrel-bay/heron-broken');
    const baseline = join(folder, 'broken.json');
    const written = await run(['lint', broken, '--write-baseline', baseline]);
    expect(written.status).toBe(0);
    expect(written.stdout).toMatch(/Verdict +\d+ errors.* in \d+ tasks\./);
    const { status, stdout } = await run(['lint', broken, '--baseline', baseline, '--width', '200']);
    expect(status).toBe(0);
    expect(stdout).toMatch(/Verdict +Nothing new, \d+ errors.* known/);
    expect(stdout).not.toContain('Clean');
    const waivers = [{ rule: 'groups/two-senders', subject: '239.10.1.1 in red-video', reason: 'on Thursday' }];
    const waived = file('waived.json', JSON.stringify({ waivers }));
    const accepted = await run(['lint', CLASH, waived, '--today', '2026-06-01', '--width', '200']);
    expect(accepted.stdout).toContain('1 waived in the plan');
    expect(accepted.stdout).not.toContain('Clean');
  });

  it('a baseline accepts what is found, not what was not judged', async () => {
    const baseline = join(folder, 'open.json');
    const write = ['lint', CLASH, '--write-baseline', baseline, '--force'];
    expect((await run([...write, '--fail-at', 'error'])).status).toBe(0);
    const unjudged = await run([...write, '--fail-at', 'unjudged']);
    expect(unjudged.stdout).toContain('part of this plan was not judged');
    expect(unjudged.status).toBe(1);
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
