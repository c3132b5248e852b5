/** Allocating as a user meets it: streams, exit codes, files, and the questions at a terminal. */
import { spawnSync } from 'node:child_process';
import { existsSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';

const ROOT = fileURLToPath(new URL('../..', import.meta.url));
const MAIN = join(ROOT, 'dist/src/cli/main.js');
const TYPE_LINES = join(ROOT, 'tests/tools/type-lines.py');
const HAS_PTY = spawnSync('python3', ['-c', 'import pty']).status === 0;

let folder = '';
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'allocate-'));
  writeFileSync(join(folder, 'request.yaml'), REQUEST);
});
afterAll(() => {
  rmSync(folder, { recursive: true, force: true });
});

const REQUEST = `rig: Plover
networks:
  - {name: red, role: media, leg: 1}
  - {name: blue, role: media, leg: 2}
  - {name: control, role: control, dhcp: 20}
areas: [{name: jetty}, {name: judges hut}]
kinds:
  - name: camera
    interfaces:
      - {name: red, network: red, rate: 25G}
      - {name: blue, network: blue, rate: 25G}
      - {name: control, network: control, rate: 1G}
    senders: [{name: picture, essence: video}, {name: sound, essence: audio}]
devices:
  - {name: cam, kind: camera, area: jetty, count: 4}
`;

function run(...words: readonly string[]): {
  readonly status: number | null;
  readonly out: string;
  readonly err: string;
} {
  const { status, stdout, stderr } = spawnSync('node', [MAIN, ...words], { encoding: 'utf8', cwd: folder });
  return { status, out: stdout, err: stderr };
}

function request(name: string, change: (text: string) => string): string {
  writeFileSync(join(folder, name), change(REQUEST));
  return name;
}

describe('allocate', () => {
  it('prints a plan that lint finds clean, and how full it is beside it', () => {
    const { status, out, err } = run('allocate', 'request.yaml');
    expect(status).toBe(0);
    expect(err).toContain('HOW FULL IT IS');
    expect(out).toContain('# How to read the numbers');
    writeFileSync(join(folder, 'printed.yaml'), out);
    expect(run('lint', 'printed.yaml', '--fail-at', 'note').status).toBe(0);
  });

  it('writes a file and sheets, the same every time, and over nothing', () => {
    expect(run('allocate', 'request.yaml', '--output', 'plan.yaml', '--sheets', 'sheets').status).toBe(0);
    expect(readFileSync(join(folder, 'plan.yaml'), 'utf8')).toBe(run('allocate', 'request.yaml').out);
    expect(readdirSync(join(folder, 'sheets')).sort()).toEqual(['hosts.csv', 'streams.csv', 'vlans.csv']);
    const before = readFileSync(join(folder, 'plan.yaml'), 'utf8');
    const again = run('allocate', 'request.yaml', '--output', 'plan.yaml');
    expect(again).toMatchObject({ status: 2, err: 'rigproof: plan.yaml exists; add --force to overwrite it\n' });
    expect(readFileSync(join(folder, 'plan.yaml'), 'utf8')).toBe(before);
  });

  it('keeps the numbers of an earlier plan', () => {
    const more = request(
      'more.yaml',
      (text) => `${text}  - {name: hut-cam, kind: camera, area: judges hut, count: 2}\n`,
    );
    const { status, out } = run('allocate', more, '--keep', 'plan.yaml');
    expect(status).toBe(0);
    const old = readFileSync(join(folder, 'plan.yaml'), 'utf8');
    const devices = /devices:\n([\s\S]*?)\n\n/.exec(old)?.[1] ?? 'no devices';
    for (const line of devices.split('\n').filter((text) => /address|group/.test(text))) expect(out).toContain(line);
    expect(out).toContain('hut-cam-2');
  });

  it('refuses what does not fit with the place, what is short and what would do, and writes nothing', () => {
    const tight = request('tight.yaml', (text) =>
      text.replace('role: control,', 'role: control, addresses: 10.9.0.0/28,'),
    );
    const { status, out, err } = run('allocate', tight, '--output', 'tight-plan.yaml');
    expect(status).toBe(2);
    expect(out).toBe('');
    expect(err).toMatch(/tight\.yaml 5:\d+/);
    expect(err).toMatch(/\bshort\b|\bneeds?\b/);
    expect(existsSync(join(folder, 'tight-plan.yaml'))).toBe(false);
  });

  it('refuses a fixed number that something keeps clear of', () => {
    const clash = request(
      'clash.yaml',
      (text) =>
        `${text}keepClear: {addresses: [10.30.0.5]}\nfixed: [{device: cam-1, interface: red, address: 10.30.0.5}]\n`,
    );
    const { status, err } = run('allocate', clash);
    expect(status).toBe(2);
    expect(err).toContain('10.30.0.5');
    expect(err).toMatch(/clash\.yaml 1[67]:\d+/);
  });

  it('says at line and column what a request may not say', () => {
    const wrong = request('wrong.yaml', (text) =>
      text.replace('count: 4', 'cuont: 4').replace('kind: camera, area', 'kind: camra, area'),
    );
    const first = run('allocate', wrong);
    expect(first.status).toBe(2);
    expect(first.err).toContain('cuont');
    expect(first.err).toMatch(/wrong\.yaml 15:\d+/);
    const second = run(
      'allocate',
      request('wrong.yaml', (text) => text.replace('kind: camera, area', 'kind: camra, area')),
    );
    expect(second.status).toBe(2);
    expect(second.err).toContain('camra');
    expect(second.err).toContain('camera');
    expect(run('allocate', 'nothing.yaml').status).toBe(2);
    expect(run('allocate').err).toContain('--ask');
  });
});

describe('allocate --ask', () => {
  it('says what to write where there is no terminal', () => {
    const { status, err } = run('allocate', '--ask');
    expect(status).toBe(2);
    expect(err).toContain('--ask needs a terminal');
    const example = /to start from:\n\n([\s\S]*?)\n\nschemas/.exec(err)?.[1] ?? '';
    writeFileSync(join(folder, 'example.yaml'), example);
    expect(run('allocate', 'example.yaml').status).toBe(0);
  });

  it.skipIf(!HAS_PTY)(
    'writes a request at a terminal, of which a plan can be made (needs python3 with its pty module)',
    () => {
      const lines = ['Plover', 'Kestrel Bay', 'island', '2 clocks, 3 cameras', '2', '', '', '', ''];
      const words = [TYPE_LINES, JSON.stringify(lines), process.execPath, MAIN, 'allocate', '--ask'];
      const { stdout, stderr } = spawnSync('python3', words, { cwd: folder, encoding: 'utf8' });
      expect(stderr).toBe('');
      expect(JSON.parse(stdout)).toMatchObject({ code: 0 });
      const { status, err } = run('allocate', 'plover-request.yaml', '--output', 'asked.yaml');
      expect(`${String(status)} ${err}`).toBe('0 ');
      expect(run('lint', 'asked.yaml').status).toBe(0);
    },
  );
});
