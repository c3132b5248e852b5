/** Writing calls of the program itself, ended at moments that nobody chose. */
import { spawn, spawnSync } from 'node:child_process';
import { cpSync, mkdtempSync, readdirSync, readFileSync, rmSync, watch } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import fc from 'fast-check';
import { IN_PLACE, layRigs, RIGS } from '../tools/rigs-in-place.js';
import type { Failure, Outcome } from './attempt.js';

interface Moment {
  /** So many events in the folders pass, and so much time after. */
  readonly events: number;
  readonly micros: number;
  readonly signal: 'SIGKILL' | 'SIGTERM' | 'SIGINT';
  /** Whether the call that settles is ended in the middle too. */
  readonly twice: boolean;
}

const moment: fc.Arbitrary<Moment> = fc.record({
  events: fc.integer({ min: 0, max: 45 }),
  micros: fc.integer({ min: 0, max: 3000 }),
  signal: fc.constantFrom('SIGKILL', 'SIGKILL', 'SIGTERM', 'SIGINT'),
  twice: fc.boolean(),
});

export async function fuzzKills(bounds: {
  readonly seed: number;
  readonly ms: number;
  readonly tries: number;
}): Promise<Outcome> {
  const main = join(process.cwd(), 'dist/program/cli/main.js');
  const base = mkdtempSync(join(tmpdir(), 'rigproof-fuzz-kills-'));
  const end = performance.now() + bounds.ms;
  const failures: Failure[] = [];
  let [tries, runs, slowestMs] = [0, 0, 0];
  try {
    const fresh = join(base, 'fresh');
    layRigs(fresh);
    const old = textsOf(fresh);
    const done = join(base, 'done');
    cpSync(fresh, done, { recursive: true });
    spawnSync(process.execPath, [main, ...IN_PLACE], { cwd: done });
    const now = textsOf(done);
    for (const one of fc.sample(moment, { seed: bounds.seed, numRuns: Math.min(bounds.tries, 5000) })) {
      if (performance.now() >= end) break;
      const began = performance.now();
      const at = join(base, 'case');
      rmSync(at, { recursive: true, force: true });
      cpSync(fresh, at, { recursive: true });
      await ended(main, IN_PLACE, at, one);
      if (one.twice) await ended(main, ['settle', '.'], at, { ...one, events: one.events % 7 });
      const { status, stderr } = spawnSync(process.execPath, [main, 'settle', '.'], { cwd: at, encoding: 'utf8' });
      const there = textsOf(at);
      const left = readdirSync(at, { recursive: true, encoding: 'utf8' }).filter((name) => name.includes('rigproof'));
      const wrong =
        status !== 0
          ? `settle ends with ${String(status)}`
          : there !== old && there !== now
            ? 'plans are neither all old nor all new'
            : left.length > 0
              ? `left behind: ${left.join()}`
              : undefined;
      if (wrong !== undefined && !failures.some(({ name }) => name === wrong))
        failures.push({ name: wrong, told: `${wrong}\n${JSON.stringify(one)}\n${stderr}`, files: {} });
      tries++;
      runs += 2 + Number(one.twice);
      slowestMs = Math.max(slowestMs, performance.now() - began);
    }
  } finally {
    rmSync(base, { recursive: true, force: true });
  }
  return { tries, runs, slowestMs, failures };
}

function ended(main: string, words: readonly string[], at: string, { events, micros, signal }: Moment): Promise<void> {
  const child = spawn(process.execPath, [main, ...words], { cwd: at, stdio: 'ignore' });
  let seen = 0;
  const strike = (): void => {
    if (++seen !== Math.max(1, events)) return;
    const until = performance.now() + micros / 1000;
    while (performance.now() < until);
    child.kill(signal);
  };
  const watchers = RIGS.map((name) => watch(join(at, name), strike));
  return new Promise((resolve) =>
    child.on('close', () => {
      for (const one of watchers) one.close();
      resolve();
    }),
  );
}

function textsOf(at: string): string {
  return readdirSync(at, { recursive: true, encoding: 'utf8' })
    .filter((name) => /\.(?:yaml|json|csv|sdp)$/.test(name))
    .sort()
    .map((name) => `${name}\n${readFileSync(join(at, name), 'utf8')}`)
    .join('\n');
}
