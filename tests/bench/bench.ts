/**
 * `npm run bench [-- SIZE…]`: lint time over the time the bare parsers need on the same file, and growth from size to
 * size, all in one run. Each measurement has a process of its own; medians of several.
 */
import { spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync, statSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { writePlan, type Shape } from './generate.js';

/** Past this many streams the YAML text outgrows what one string holds comfortably. */
const MOST_YAML = 200_000;

interface Measure {
  readonly timeMs: number;
  readonly peakMb: number;
  readonly outcome: string;
}

const worker = fileURLToPath(new URL('./worker.js', import.meta.url));
const sizes = process.argv.slice(2).map(Number);
const folder = mkdtempSync(join(tmpdir(), 'rigproof-bench-'));
try {
  print([
    'streams',
    'shape',
    'file',
    'MB',
    'parse ms',
    'lint ms',
    'lint/parse',
    'growth per doubling',
    'peak MB',
    'outcome',
  ]);
  for (const shape of ['kinds', 'spelled'] as const) run(shape);
} finally {
  rmSync(folder, { recursive: true, force: true });
}

function run(shape: Shape): void {
  const before = new Map<string, { readonly streams: number; readonly timeMs: number }>();
  for (const streams of sizes.length > 0 ? sizes : [1_000, 10_000, 100_000, 200_000, 400_000, 1_000_000]) {
    const json = join(folder, 'plan.json');
    const yaml = streams <= MOST_YAML ? join(folder, 'plan.yaml') : undefined;
    writePlan(streams, shape, json, yaml);
    for (const [task, file] of [
      ['parse-json', json],
      ['parse-yaml', yaml],
    ] as const) {
      if (file === undefined) continue;
      const runs = streams >= 400_000 ? 3 : 5;
      // In turns, so that a machine that slows down slows both.
      const pairs = Array.from({ length: runs }, () => [measure(task, file), measure('lint', file)] as const);
      const parse = median(pairs.map(([one]) => one.timeMs));
      const lint = median(pairs.map(([, one]) => one.timeMs));
      const last = before.get(task);
      const growth =
        last === undefined
          ? ''
          : (lint / last.timeMs / (streams / last.streams)) ** (1 / Math.log2(streams / last.streams));
      before.set(task, { streams, timeMs: lint });
      const [, sample] = pairs[0] ?? [];
      print([
        streams,
        shape,
        task.slice(6),
        (statSync(file).size / 1e6).toFixed(1),
        parse.toFixed(0),
        lint.toFixed(0),
        median(pairs.map(([a, b]) => b.timeMs / a.timeMs)).toFixed(2),
        growth === '' ? '' : growth.toFixed(2),
        Math.max(...pairs.map(([, one]) => one.peakMb)).toFixed(0),
        sample?.outcome ?? '',
      ]);
    }
  }
}

function measure(task: string, file: string): Measure {
  const child = spawnSync(process.execPath, ['--max-old-space-size=12000', worker, task, file], {
    encoding: 'utf8',
    maxBuffer: 1e8,
  });
  if (child.status !== 0) throw new Error(`${task} ${file}: ${child.stderr}`);
  return JSON.parse(child.stdout) as Measure;
}

function median(values: readonly number[]): number {
  const sorted = [...values].sort((a, b) => a - b);
  return sorted[Math.floor(sorted.length / 2)] ?? Number.NaN;
}

function print(cells: readonly (string | number)[]): void {
  process.stdout.write(
    `${cells.map((cell, index) => (index === cells.length - 1 ? String(cell) : String(cell).padStart(index === 7 ? 20 : 10))).join(' ')}\n`,
  );
}
