/**
 * `npm run fuzz -- [--seconds 60] [--seed N] [--part NAME]`: every part for its share of the time, each in a process of its
 * own, so that one that never ends or takes all memory is told with the input it was at. Ends with 1 where something was
 * found; what was found lies in a folder, ready for `tests/fuzz/corpus`.
 */
import { spawnSync } from 'node:child_process';
import { existsSync, mkdirSync, mkdtempSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { parseArgs } from 'node:util';
import { attempt, keep, keptOf } from './attempt.js';
import { fuzzKills } from './kills.js';
import { PARTS } from './parts.js';

const { values } = parseArgs({
  options: {
    seconds: { type: 'string', default: process.env['FUZZ_SECONDS'] ?? '60' },
    seed: { type: 'string', default: process.env['FUZZ_SEED'] ?? String(Date.now() % 1_000_000) },
    part: { type: 'string' },
    found: { type: 'string' },
  },
});
const [seconds, seed] = [Number(values.seconds), Number(values.seed)];
if (!(seconds > 0) || !Number.isSafeInteger(seed)) throw new Error('--seconds and --seed are numbers');

const KILLS = 'kills';
const HEAP_MB = 3000;
/** What a part may need beyond its time: to start, and to make what it found small. */
const GRACE_MS = 120_000;

if (values.found === undefined) {
  process.exitCode = runAll(values.part === undefined ? [...PARTS.map(({ name }) => name), KILLS] : [values.part]);
} else process.exitCode = await runOne(values.part ?? '', values.found);

function runAll(names: readonly string[]): number {
  const found = mkdtempSync(join(tmpdir(), 'rigproof-found-'));
  process.stdout.write(
    `seed ${seed}, ${seconds} s\n${'part'.padEnd(12)}${'tries'.padStart(8)}${'commands'.padStart(10)}${'slowest ms'.padStart(12)}${'faults'.padStart(8)}\n`,
  );
  let worst = 0;
  for (const name of names) {
    const words = [
      '--seconds',
      String(seconds / names.length),
      '--seed',
      String(seed),
      '--part',
      name,
      '--found',
      found,
    ];
    const { status, signal } = spawnSync(
      process.execPath,
      [`--max-old-space-size=${HEAP_MB}`, fileURLToPath(import.meta.url), ...words],
      {
        stdio: 'inherit',
        timeout: Math.ceil((seconds * 1000) / names.length + GRACE_MS),
        killSignal: 'SIGKILL',
      },
    );
    if (status !== 0 && status !== 1)
      process.stdout.write(
        `${name}: ended by ${signal ?? `exit code ${String(status)}`} while it was at ${join(found, `${name}-current.json`)}\n`,
      );
    if (status !== 0) worst = 1;
  }
  if (worst > 0) process.stdout.write(`what was found lies in ${found}\n`);
  return worst;
}

async function runOne(name: string, found: string): Promise<number> {
  const ms = seconds * 1000;
  if (!existsSync(found)) mkdirSync(found);
  const part = PARTS.find((one) => one.name === name);
  if (part === undefined && name !== KILLS) throw new Error(`there is no part ${name}`);
  const current = join(found, `${name}-current.json`);
  const outcome =
    part === undefined
      ? await fuzzKills({ seed, ms, tries: Infinity })
      : await attempt(part, {
          seed,
          ms,
          tries: Infinity,
          shrinkMs: 15_000,
          before: (files) => {
            keep(current, keptOf(name, 'was being tried', files));
          },
        });
  const { tries, runs, slowestMs, failures } = outcome;
  process.stdout.write(
    `${name.padEnd(12)}${String(tries).padStart(8)}${String(runs).padStart(10)}${slowestMs.toFixed(0).padStart(12)}${String(failures.length).padStart(8)}\n`,
  );
  for (const [index, failure] of failures.entries()) {
    const path = join(found, `${name}-${index + 1}.json`);
    keep(path, keptOf(name, failure.name, failure.files));
    process.stdout.write(`\n${failure.told}\n${JSON.stringify(failure.files)}\n${path}\n\n`);
  }
  return failures.length > 0 ? 1 : 0;
}
