/** `rigproof diff` as a user meets it: formats, files, exit codes, what is refused. */
import { Ajv } from 'ajv';
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { parse } from 'csv-parse/sync';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { run as runProgram, type Run } from '../tools/run-program.js';

const ROOT = fileURLToPath(new URL('../..', import.meta.url));
const HERON = join(ROOT, 'examples/kestrel-bay/heron');
const BROKEN = join(ROOT, 'examples/kestrel-bay/heron-broken');
let folder = '';

beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'rigproof-diff-'));
  writeFileSync(join(folder, 'old.yaml'), plan('239.192.0.1'));
  writeFileSync(join(folder, 'new.yaml'), plan('239.192.0.2'));
  writeFileSync(
    join(folder, 'faulty.yaml'),
    'devices: [{name: cam-31, interfaces: [{name: red, address: 10.0.0.300}]}]\n',
  );
});
afterAll(() => {
  rmSync(folder, { recursive: true, force: true });
});

function plan(group: string): string {
  return `
rig: Heron
networks: [{name: red, leg: 1}]
devices:
  - name: cam-31
    interfaces: [{name: red, network: red}]
    senders: [{name: picture, legs: [{interface: red, group: ${group}}]}]
  - name: vision
    interfaces: [{name: red, network: red}]
    receivers: [{name: in-31, takes: cam-31/picture}]
`;
}

function run(words: readonly string[], input = ''): Promise<Run> {
  return runProgram(['diff', ...words], { cwd: folder, input });
}

describe('two plans that can be read', () => {
  it('exit with 0 whatever changed', async () => {
    const { status, stdout, stderr } = await run(['old.yaml', 'new.yaml']);
    expect([status, stderr]).toEqual([0, '']);
    expect(stdout).toBe(`1 stream re-addressed, 1 receiver to re-patch, 2 devices to touch

CHANGE SHEET
------------
To do       2 steps
Order       from the top; one leg is done before the next, so that the other stays on air, and
            nothing is taken before it is free

STAGE 1: Network red, leg 1 (2 steps)
-------------------------------------
1 [ ] cam-31  picture, leg 1  group 239.192.0.1 → 239.192.0.2
2 [ ] vision  in-31, leg 1    patch group 239.192.0.1 → 239.192.0.2 (cam-31/picture moved)

Caution   A clean result is a check on paper, not proof for air. Safety intercom and public address
          follow local codes and competent testing.
`);
  });

  it('say so in one line when nothing changed', async () => {
    const { status, stdout } = await run(['old.yaml', 'old.yaml']);
    expect([status, stdout]).toEqual([0, 'nothing changed\n']);
  });

  it('may be folders, and the answer JSON that keeps to its schema', async () => {
    const { status, stdout } = await run([HERON, BROKEN, '--format', 'json']);
    expect(status).toBe(0);
    const schema = JSON.parse(readFileSync(join(ROOT, 'schemas/sheet.schema.json'), 'utf8')) as object;
    const validate = new Ajv({ strict: true, allowUnionTypes: true }).compile(schema);
    const sheet: unknown = JSON.parse(stdout);
    expect(validate(sheet), JSON.stringify(validate.errors)).toBe(true);
    expect(sheet).toMatchObject({ complete: true, summary: { streamsReaddressed: 9, streamsNew: 1 } });
  });

  it('may come one of them from standard input', async () => {
    const { status, stdout } = await run(['old.yaml', '-', '--width', '60'], plan('239.192.0.3'));
    expect(status).toBe(0);
    expect(stdout).toContain('239.192.0.3');
    for (const line of stdout.split('\n')) expect(line.length).toBeLessThanOrEqual(60);
  });

  it('leave a CSV file, which is kept unless forced', async () => {
    const words = ['old.yaml', 'new.yaml', '--format', 'csv', '--output', 'sheet.csv'];
    expect((await run(words)).status).toBe(0);
    const rows: Record<string, string>[] = parse(readFileSync(join(folder, 'sheet.csv')), { columns: true });
    expect(rows.map(({ name, action, what, done }) => [name, action, what, done])).toEqual([
      ['cam-31', 'set', 'group', ''],
      ['vision', 'patch', 'group', ''],
    ]);
    const again = await run(words);
    expect([again.status, again.stderr]).toEqual([2, 'rigproof: sheet.csv exists; add --force to overwrite it\n']);
    expect((await run([...words, '--force'])).status).toBe(0);
  });

  it('carry colour only when asked for', async () => {
    expect((await run(['old.yaml', 'new.yaml', '--colour', 'always'])).stdout).toContain('\u001b[');
    expect((await run(['old.yaml', 'new.yaml'])).stdout).not.toContain('\u001b[');
  });
});

describe('what is refused', () => {
  it.each(['faulty.yaml', 'missing.yaml'])('%s makes the exit code 2 on either side, and no sheet', async (file) => {
    for (const words of [
      [file, 'new.yaml'],
      ['old.yaml', file],
    ]) {
      const { status, stdout } = await run(words);
      expect(status).toBe(2);
      expect(stdout).toContain('INPUT THAT COULD NOT BE READ');
      expect(stdout).not.toContain('CHANGE SHEET');
      const json = await run([...words, '--format', 'json']);
      expect(json.status).toBe(2);
      expect(JSON.parse(json.stdout)).toMatchObject({ complete: false, summary: null, stages: [] });
      const csv = await run([...words, '--format', 'csv']);
      expect([csv.status, csv.stdout]).toEqual([2, '']);
      expect(csv.stderr).toContain("a plan can't be read");
    }
  });

  it('is standard input twice, and any other number of plans than two', async () => {
    expect((await run(['-', '-'])).stderr).toContain('not both');
    expect((await run(['-', '-'])).status).toBe(2);
    expect((await run(['old.yaml'])).status).toBe(2);
    expect((await run(['old.yaml', 'new.yaml', 'old.yaml'])).status).toBe(2);
  });
});
