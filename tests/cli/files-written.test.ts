/** What commands write: all or nothing, never over what was not named, and never what does not read back. */
import {
  copyFileSync,
  cpSync,
  existsSync,
  mkdirSync,
  readdirSync,
  readFileSync,
  statSync,
  symlinkSync,
  writeFileSync,
} from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { lintInputs } from '../../src/lint/lint.js';
import { loadPlan } from '../../src/plan/load.js';
import { RULES } from '../../rules/index.js';
import { CLASH, CLEAN, ROOT, file, folder, inOwnFolder, run } from '../tools/cli-folder.js';

inOwnFolder();

/** A rig whose one camera sends to a group that the other rig uses too. */
function rig(name: string, more = ''): string {
  return `rig: "${name}"
networks: [{name: red, role: media, leg: 1}]
vlans: [{name: red-video, id: 210, network: red, subnet: 10.20.10.0/24}]
devices:
  - name: cam-${/\w$/.exec(name)?.[0] ?? 'x'}
    interfaces: [{name: red, vlan: red-video, address: 10.20.10.11/24}]
    senders: [{name: video, legs: [{interface: red, group: 239.192.10.11, port: 5004}]}]
${more}`;
}

const JOIN = (a: string, b: string): string => `joins: [{vlans: ["${a}:red-video", "${b}:red-video"]}]\n`;

describe('two outputs of one name', () => {
  it('are refused before anything is written: two rigs whose names make one folder', async () => {
    mkdirSync(join(folder, 'colon'));
    file('colon/one.yaml', rig('A:B'));
    file('colon/two.yaml', rig('A?B'));
    mkdirSync(join(folder, 'colon/x'));
    mkdirSync(join(folder, 'colon/y'));
    copyFileSync(join(folder, 'colon/one.yaml'), join(folder, 'colon/x/plan.yaml'));
    copyFileSync(join(folder, 'colon/two.yaml'), join(folder, 'colon/y/plan.yaml'));
    const { status, stderr } = await run(['merge', 'colon/x', 'colon/y', '--write', 'colon/out']);
    expect([status, stderr]).toEqual([
      2,
      expect.stringMatching(/colon\/x\/plan\.yaml and colon\/y\/plan\.yaml would both be called A-B\/plan\.yaml/),
    ]);
    expect(existsSync(join(folder, 'colon/out'))).toBe(false);
    // The cure: another name for one of them.
    writeFileSync(join(folder, 'colon/y/plan.yaml'), rig('A_B'));
    expect((await run(['merge', 'colon/x', 'colon/y', '--write', 'colon/out'])).stderr).toBe('');
    expect(readdirSync(join(folder, 'colon/out')).sort()).toContain('A_B');
  });

  it('are refused before anything is written: two join files', async () => {
    for (const name of ['joins/a', 'joins/b']) mkdirSync(join(folder, name), { recursive: true });
    file('joins/one.yaml', rig('P'));
    file('joins/two.yaml', rig('Q'));
    file('joins/a/join.yaml', JOIN('P', 'Q'));
    file('joins/b/join.yaml', 'links: []\n');
    const words = [
      'merge',
      'joins/one.yaml',
      'joins/two.yaml',
      '--join',
      'joins/a/join.yaml',
      '--join',
      'joins/b/join.yaml',
    ];
    const { status, stderr } = await run([...words, '--write', 'joins/out']);
    expect([status, stderr]).toEqual([2, expect.stringContaining('would both be called join.yaml')]);
    expect(existsSync(join(folder, 'joins/out'))).toBe(false);
  });

  it('are refused where some disks take them for one: names in two cases, and a report in the place of a baseline', async () => {
    for (const name of ['cases/a', 'cases/b']) mkdirSync(join(folder, name), { recursive: true });
    file('cases/a/plan.yaml', rig('Heron'));
    file('cases/b/plan.yaml', rig('heron'));
    const merge = await run(['merge', 'cases/a', 'cases/b', '--write', 'cases/out']);
    expect([merge.status, merge.stderr]).toEqual([2, expect.stringContaining('are one file, here or on a disk')]);
    expect(existsSync(join(folder, 'cases/out'))).toBe(false);
    const lint = await run(['lint', CLASH, '--output', 'cases/x.json', '--write-baseline', 'cases/./X.json']);
    expect(lint.status).toBe(2);
    expect(existsSync(join(folder, 'cases/x.json'))).toBe(false);
  });
});

describe('an output', () => {
  it.skipIf(!existsSync('/dev/null'))('takes the place of no device, forced or not', async () => {
    for (const more of [[], ['--force']]) {
      const { status, stderr } = await run(['lint', CLEAN, '--output', '/dev/null', ...more]);
      expect([status, stderr]).toEqual([2, expect.stringContaining('/dev/null is a device, not a file')]);
    }
    expect(statSync('/dev/null').isCharacterDevice()).toBe(true);
  });

  it('takes the place of no file it was made from, forced or not, but of the one it goes on from', async () => {
    copyFileSync(CLASH, join(folder, 'mine.yaml'));
    const text = readFileSync(CLASH, 'utf8');
    symlinkSync('mine.yaml', join(folder, 'mine-too.yaml'));
    for (const name of ['mine.yaml', './mine.yaml', 'mine-too.yaml']) {
      const { status, stderr } = await run(['lint', 'mine.yaml', '--output', name, '--force']);
      expect([status, stderr]).toEqual([2, expect.stringContaining('is one of the files this was made from')]);
    }
    expect(readFileSync(join(folder, 'mine.yaml'), 'utf8')).toBe(text);
    expect((await run(['lint', 'mine.yaml', '--write-baseline', 'mine.json'])).status).toBe(0);
    const again = ['lint', 'mine.yaml', '--baseline', 'mine.json', '--write-baseline', 'mine.json'];
    expect((await run(again)).stderr).toContain('--force');
    expect((await run([...again, '--force'])).status).toBe(0);
  });

  it('of several kinds is written with the others or not at all', async () => {
    const request = join(ROOT, 'examples/kestrel-bay/finish-island/request.yaml');
    mkdirSync(join(folder, 'both/sheets'), { recursive: true });
    file('both/sheets/hosts.csv', 'mine');
    const words = [
      'allocate',
      request,
      '--reach',
      join(ROOT, 'examples'),
      '--output',
      'both/plan.yaml',
      '--sheets',
      'both/sheets',
    ];
    const { status, stderr, stdout } = await run(words);
    expect([status, stdout]).toEqual([2, '']);
    expect(stderr).toContain('both/sheets/hosts.csv exists');
    expect(existsSync(join(folder, 'both/plan.yaml'))).toBe(false);
    expect((await run([...words, '--force'])).stdout).toContain('both/sheets/hosts.csv:');
    expect(existsSync(join(folder, 'both/plan.yaml'))).toBe(true);
  });
});

describe('in place', () => {
  it('follows a link to the plan, which stays a link, and makes what was joined by options a file beside', async () => {
    for (const name of ['place/a', 'place/b', 'place/real']) mkdirSync(join(folder, name), { recursive: true });
    file('place/a/plan.yaml', rig('R'));
    file('place/real/plan.yaml', rig('S'));
    symlinkSync('../real/plan.yaml', join(folder, 'place/b/plan.yaml'));
    const words = ['merge', 'place/a', 'place/b', '--one', 'R:red-video=S:red-video', '--keep', 'R', '--in-place'];
    const { stderr } = await run(words);
    expect(stderr).toBe('');
    expect(readFileSync(join(folder, 'place/a/plan.yaml'), 'utf8')).toBe(rig('R'));
    const moved = readFileSync(join(folder, 'place/real/plan.yaml'), 'utf8');
    expect(moved).not.toBe(rig('S'));
    expect(moved).not.toContain('239.192.10.11');
    expect(
      readdirSync(join(folder, 'place/b'), { withFileTypes: true }).map((one) => [one.name, one.isSymbolicLink()]),
    ).toEqual([['plan.yaml', true]]);
  });
});

describe('allocate', () => {
  const request = readFileSync(join(ROOT, 'examples/kestrel-bay/finish-island/request.yaml'), 'utf8').replace(
    'plans: [../heron, ../dunlin]',
    'plans: []',
  );

  it.each([
    ['rack-9-1', 'rack-9-2'],
    ['rack-1-1', 'rack-1-4'],
    ['a 2-1', 'a 10-3'],
  ])('writes links that lead where they should, whatever the switches are called: %s and %s', async (one, other) => {
    file('racks.yaml', request.replaceAll('isle-red-1', one).replaceAll('isle-red-2', other));
    const { status, stdout, stderr } = await run(['allocate', 'racks.yaml']);
    expect([status, stderr]).toEqual([0, expect.stringContaining('nothing found')]);
    const { plan, problems } = loadPlan([{ name: 'p.yaml', text: stdout }]);
    expect(problems).toEqual([]);
    const link = plan.links.find(({ ends }) => ends.some(({ switch: end }) => end?.name === other));
    expect(link?.ends.map(({ switch: end }) => end?.name)).toEqual([one, other]);
    expect(lintInputs([{ name: 'p.yaml', text: stdout }], RULES, { today: '2026-06-01' }).findings).toEqual([]);
  });

  it.each(['mixer/clean//', 'mixer/clean/', '/clean', 'mixer/cl\u0007ean'])(
    'refuses a stream that no plan could name, where it stands: %s',
    async (takes) => {
      file('takes.yaml', request.replace('{return: mixer/clean}', `{return: ${JSON.stringify(takes)}}`));
      const { status, stdout, stderr } = await run(['allocate', 'takes.yaml', '--output', 'takes-plan.yaml']);
      expect([status, stdout]).toEqual([2, '']);
      expect(stderr).toMatch(/takes\.yaml 82:\d+/);
      expect(existsSync(join(folder, 'takes-plan.yaml'))).toBe(false);
    },
  );
});

describe('settle', () => {
  it('says that nothing was cut off, and what is no folder', async () => {
    cpSync(join(ROOT, 'examples/kestrel-bay/heron'), join(folder, 'whole'), { recursive: true });
    expect(await run(['settle', 'whole'])).toEqual({
      status: 0,
      stdout: 'whole: nothing was cut off here.\n',
      stderr: '',
    });
    expect(await run(['settle', 'nowhere'])).toMatchObject({ status: 2, stdout: '' });
  });
});

describe('licences', () => {
  it('are those of the program and of every package it runs on', async () => {
    const { status, stdout } = await run(['licences']);
    expect(status).toBe(0);
    const lock = JSON.parse(readFileSync(join(ROOT, 'package-lock.json'), 'utf8')) as {
      packages: Readonly<Record<string, { dev?: boolean; version: string; license?: string; optional?: boolean }>>;
    };
    const needed = Object.entries(lock.packages).filter(
      ([path, { dev, optional }]) => path !== '' && dev !== true && optional !== true,
    );
    expect(needed.length).toBeGreaterThan(4);
    for (const [path, { version, license }] of needed)
      expect(stdout, path).toContain(`  ${path.replace(/^.*node_modules\//, '')} ${version}: ${license ?? ''}\n`);
    expect(stdout).toContain('rigproof 0.2.0: MIT\n');
    // From the MIT licence as SPDX lists it (spdx.org/licenses/MIT).
    expect(stdout).toContain('Permission is hereby granted, free of charge, to any person obtaining a copy');
    expect(stdout.match(/Permission is hereby granted, free of charge/g)?.length).toBeGreaterThan(4);
  });
});
