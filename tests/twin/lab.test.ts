/** What every twin rests on: labs stand apart from each other and from the machine, and nothing of them stays behind. */
import { spawn } from 'node:child_process';
import { once } from 'node:events';
import { existsSync, readdirSync, readlinkSync, rmSync } from 'node:fs';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { setTimeout as sleep } from 'node:timers/promises';
import { afterEach, describe, expect, it, vi } from 'vitest';
import { built } from '../tools/built.js';
import { skipped } from '../tools/outside.js';
import { Lab, sideBySide, whyNoLab } from './lab.js';

const MOST_MS = 20_000;
const reason = whyNoLab();

function namespaceOf(process: string): string | undefined {
  try {
    return readlinkSync(`/proc/${process}/ns/net`);
  } catch {
    return undefined; // it has ended
  }
}

function processesIn(namespace: string): readonly string[] {
  return readdirSync('/proc').filter((name) => /^\d+$/.test(name) && namespaceOf(name) === namespace);
}

describe.skipIf(reason !== undefined)(`labs${skipped(reason)}`, () => {
  it('stand side by side, each in a namespace of its own, with links of the same names', async () => {
    const seen = await sideBySide(['one', 'two'], 2, () =>
      Lab.with(async (lab) => {
        await lab.ip(['link add red type bridge', 'link set red up']);
        return {
          namespace: await lab.run('readlink', ['/proc/self/ns/net'], { mostMs: MOST_MS }),
          links: await lab.run('ip', ['-brief', 'link', 'show', 'type', 'bridge'], { mostMs: MOST_MS }),
        };
      }),
    );
    expect(seen.map(({ links }) => links.split(/\s/)[0])).toEqual(['red', 'red']);
    const namespaces = seen.map(({ namespace }) => namespace.trim());
    expect(new Set([...namespaces, namespaceOf('self')]).size).toBe(3);
    expect(namespaces.map(processesIn)).toEqual([[], []]);
  });

  it('go with their programs and files when the work is done, and when it fails', async () => {
    let folder = '';
    let namespace: string | undefined;
    const failed = Lab.with((lab) => {
      folder = lab.folder;
      const daemon = lab.start('sleep', ['1000']);
      expect(existsSync(folder)).toBe(true);
      return waitFor(() => {
        namespace = namespaceOf(String(daemon.pid));
        return namespace !== undefined && namespace !== namespaceOf('self');
      }).then(() => Promise.reject(new Error('the work failed')));
    });
    await expect(failed).rejects.toThrow('the work failed');
    expect(existsSync(folder)).toBe(false);
    expect(processesIn(namespace ?? '')).toEqual([]);
  });

  it('go when the process that opened them is killed', async () => {
    const script = `
      const { Lab } = await import(${JSON.stringify(pathToFileURL(built('tests/twin/lab.js')).href)});
      await Lab.with(async (lab) => {
        lab.start('sleep', ['1000']);
        process.stdout.write(await lab.run('readlink', ['/proc/self/ns/net'], { mostMs: ${MOST_MS} }));
        process.stdout.write(lab.folder);
        await new Promise(() => setInterval(() => undefined, 1000));
      });`;
    const opener = spawn(process.execPath, ['--input-type=module', '-e', script], {
      stdio: ['ignore', 'pipe', 'inherit'],
    });
    let said = '';
    opener.stdout.setEncoding('utf8').on('data', (text: string) => (said += text));
    await waitFor(() => said.includes('\n/'));
    const [namespace = '', folder = ''] = said.split('\n');
    // The one that holds it, and the daemon.
    await waitFor(() => processesIn(namespace).length === 2);
    opener.kill('SIGKILL');
    await once(opener, 'close');
    await waitFor(() => processesIn(namespace).length === 0);
    expect(processesIn(namespace)).toEqual([]);
    // Files outlive such an end, as everywhere.
    rmSync(folder, { recursive: true });
  });

  it('say what a program inside wrote when it fails', async () => {
    const failed = Lab.with((lab) => lab.ip(['link add red type nothing']));
    await expect(failed).rejects.toThrow(/^ip ended with \d+: .*device type/);
  });
});

describe('why there is no lab', () => {
  afterEach(() => {
    vi.unstubAllEnvs();
  });

  it('is the first program that is missing', () => {
    vi.stubEnv('PATH', join('/', 'nowhere'));
    expect(whyNoLab('python3')).toBe('ip -V does not run here');
  });
});

/** Looks until it holds; the time limit of the test is what ends a vain wait. */
async function waitFor(holds: () => boolean): Promise<void> {
  while (!holds()) await sleep(20);
}
