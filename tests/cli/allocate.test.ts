/** Allocating as a user meets it: streams, exit codes, files, and the questions at a terminal. */
import { existsSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { load } from 'js-yaml';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { run as runProgram, type RunOptions } from '../tools/run-program.js';

let folder = '';
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'allocate-'));
  writeFileSync(join(folder, 'request.yaml'), REQUEST);
});
afterAll(() => {
  rmSync(folder, { recursive: true, force: true });
});

const REQUEST = `rig: Sanderling
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

interface Judged {
  readonly receivers: unknown;
  readonly findings: readonly unknown[];
  readonly notJudged: readonly { readonly missing: string }[];
}

interface Written {
  readonly devices: readonly { readonly interfaces?: readonly Record<string, unknown>[] }[];
  readonly switches: readonly Record<string, unknown>[];
}

interface Said {
  readonly status: number;
  readonly out: string;
  readonly err: string;
}

function run(...words: readonly string[]): Promise<Said> {
  return runAt({}, ...words);
}

async function runAt(options: RunOptions, ...words: readonly string[]): Promise<Said> {
  const { status, stdout, stderr } = await runProgram(words, { cwd: folder, ...options });
  return { status, out: stdout, err: stderr };
}

function request(name: string, change: (text: string) => string): string {
  writeFileSync(join(folder, name), change(REQUEST));
  return name;
}

describe('allocate', () => {
  it('prints a plan that lint finds clean, and how full it is beside it', async () => {
    const { status, out, err } = await run('allocate', 'request.yaml');
    expect(status).toBe(0);
    expect(err).toContain('HOW FULL IT IS');
    expect(out).toContain('# How to read the numbers');
    writeFileSync(join(folder, 'printed.yaml'), out);
    expect((await run('lint', 'printed.yaml', '--fail-at', 'note')).status).toBe(0);
  });

  it('writes a file and sheets, the same every time, and over nothing', async () => {
    expect((await run('allocate', 'request.yaml', '--output', 'plan.yaml', '--sheets', 'sheets')).status).toBe(0);
    expect(readFileSync(join(folder, 'plan.yaml'), 'utf8')).toBe((await run('allocate', 'request.yaml')).out);
    expect(readdirSync(join(folder, 'sheets')).sort()).toEqual(['hosts.csv', 'streams.csv', 'vlans.csv']);
    const before = readFileSync(join(folder, 'plan.yaml'), 'utf8');
    const again = await run('allocate', 'request.yaml', '--output', 'plan.yaml');
    expect(again).toMatchObject({ status: 2, err: 'rigproof: plan.yaml exists; add --force to overwrite it\n' });
    expect(readFileSync(join(folder, 'plan.yaml'), 'utf8')).toBe(before);
  });

  it('keeps the numbers of an earlier plan', async () => {
    const more = request(
      'more.yaml',
      (text) => `${text}  - {name: hut-cam, kind: camera, area: judges hut, count: 2}\n`,
    );
    const { status, out } = await run('allocate', more, '--earlier', 'plan.yaml');
    expect(status).toBe(0);
    const old = readFileSync(join(folder, 'plan.yaml'), 'utf8');
    const devices = /devices:\n([\s\S]*?)\n\n/.exec(old)?.[1] ?? 'no devices';
    for (const line of devices.split('\n').filter((text) => /address|group/.test(text))) expect(out).toContain(line);
    expect(out).toContain('hut-cam-2');
  });

  it('refuses what does not fit with the place, what is short and what would do, and writes nothing', async () => {
    const tight = request('tight.yaml', (text) =>
      text.replace('role: control,', 'role: control, addresses: 10.9.0.0/28,'),
    );
    const { status, out, err } = await run('allocate', tight, '--output', 'tight-plan.yaml');
    expect(status).toBe(2);
    expect(out).toBe('');
    expect(err).toMatch(/tight\.yaml 5:\d+/);
    expect(err).toMatch(/\bshort\b|\bneeds?\b/);
    expect(existsSync(join(folder, 'tight-plan.yaml'))).toBe(false);
  });

  it('refuses a fixed number that something keeps clear of', async () => {
    const clash = request(
      'clash.yaml',
      (text) =>
        `${text}keepClear: {addresses: [10.30.0.5]}\nfixed: [{device: cam-1, interface: red, address: 10.30.0.5}]\n`,
    );
    const { status, err } = await run('allocate', clash);
    expect(status).toBe(2);
    expect(err).toContain('10.30.0.5');
    expect(err).toMatch(/clash\.yaml 1[67]:\d+/);
  });

  it('says at line and column what a request may not say', async () => {
    const wrong = request('wrong.yaml', (text) =>
      text.replace('count: 4', 'cuont: 4').replace('kind: camera, area', 'kind: camra, area'),
    );
    const first = await run('allocate', wrong);
    expect(first.status).toBe(2);
    expect(first.err).toContain('cuont');
    expect(first.err).toMatch(/wrong\.yaml 15:\d+/);
    const second = await run(
      'allocate',
      request('wrong.yaml', (text) => text.replace('kind: camera, area', 'kind: camra, area')),
    );
    expect(second.status).toBe(2);
    expect(second.err).toContain('camra');
    expect(second.err).toContain('camera');
    expect((await run('allocate', 'nothing.yaml')).status).toBe(2);
    expect((await run('allocate')).err).toContain('--ask');
  });
});

describe('allocate --ask', () => {
  it('says what to write where there is no terminal', async () => {
    const { status, err } = await run('allocate', '--ask');
    expect(status).toBe(2);
    expect(err).toContain('--ask needs a terminal');
    const example = /to start from:\n\n([\s\S]*?)\n\nschemas/.exec(err)?.[1] ?? '';
    writeFileSync(join(folder, 'example.yaml'), example);
    expect((await run('allocate', 'example.yaml')).status).toBe(0);
  });

  it('writes a request at a terminal, of which a plan can be made', async () => {
    const lines = ['Sanderling', 'Kestrel Bay', 'island', '2 clocks, 3 cameras', '', '2', '', '', '', '', ''];
    const asked = await runAt({ columns: 120, input: `${lines.join('\n')}\n` }, 'allocate', '--ask');
    expect(asked).toMatchObject({ status: 0, err: '' });
    const { status, err } = await run('allocate', 'sanderling-request.yaml', '--output', 'asked.yaml');
    expect(`${String(status)} ${err}`).toBe('0 ');
    expect((await run('lint', 'asked.yaml')).status).toBe(0);
  });

  /**
   * The usual answers, counted by hand, are 81 receivers on two legs: vision mixer 8 pictures and 4 ancillary, multiviewer 10
   * pictures, replay server 4 pictures, 4 ancillary and 6 sounds, mixing desk 14, intercom matrix 7, two panels 2 each, four
   * cameras a return and two lines, two stage boxes 2 each, commentary 4.
   */
  it('writes one whose plan is judged whole: every leg arrives', async () => {
    const asked = await runAt({ columns: 120, input: `Heron${'\n'.repeat(13)}` }, 'allocate', '--ask');
    expect(asked).toMatchObject({ status: 0, err: '' });
    expect((await run('allocate', 'heron-request.yaml', '--output', 'heron.yaml')).status).toBe(0);
    const first = await run('lint', 'heron.yaml', '--format', 'json');
    const judged = JSON.parse(first.out) as Judged;
    expect(judged.receivers).toMatchObject({ legs: 162, delivered: 162, notDelivered: [], notFollowed: [] });
    expect(judged.findings).toEqual([]);
    // What no request can know: what is printed on boxes, and what is in the data sheets of switches.
    expect(judged.notJudged.map(({ missing }) => missing).sort()).toEqual(['MAC addresses', 'sizes of group tables']);
    const plan = load(readFileSync(join(folder, 'heron.yaml'), 'utf8')) as Written;
    let box = 0;
    for (const { interfaces = [] } of plan.devices)
      for (const one of interfaces) one['mac'] = `02:00:00:00:00:${(++box).toString(16).padStart(2, '0')}`;
    for (const one of plan.switches) one['groupTableSize'] = 1000;
    writeFileSync(join(folder, 'heron-known.json'), JSON.stringify(plan));
    const known = await run('lint', 'heron-known.json', '--width', '200');
    expect(known.out).toMatch(/Clean: \d+ rules found nothing, and all 162 receiver legs are delivered\./);
  });
});
