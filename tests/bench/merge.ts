/**
 * `npm run bench:merge [-- SIZE…]`: joining two rigs, judging them and renumbering one, over the time that reading both
 * takes, in one run. `apart`: one stream in a hundred clashes. `alike`: both rigs have the same numbers throughout.
 */
import { RULES } from '../../rules/index.js';
import { mergeRigs, type MergeResult } from '../../src/merge/merge.js';
import { resolveSides, readSides, type SideInput } from '../../src/merge/sides.js';
import { generatePlan } from './generate.js';

const sizes = process.argv.slice(2).map(Number);

print(['streams', 'rigs', 'read ms', 'merge ms', '/read', 'repair ms', '/read', 'growth', 'outcome']);
for (const kind of ['apart', 'alike'] as const) {
  let before: { readonly streams: number; readonly timeMs: number } | undefined;
  for (const streams of sizes.length > 0 ? sizes : [2_000, 10_000, 50_000]) {
    const sides = [
      rig('Heron', generatePlan(streams)),
      rig('Dunlin', kind === 'alike' ? generatePlan(streams) : other(streams)),
    ];
    const runs = Array.from({ length: 3 }, () => {
      const read = timed(() => resolveSides(readSides(sides).sides));
      const merged = timed(() => mergeRigs(sides, RULES, { today: '2026-06-01' }));
      const repaired = timed(() => mergeRigs(sides, RULES, { today: '2026-06-01', repair: true, keep: 'Heron' }));
      return { read, merged, repaired };
    });
    const [first] = runs;
    if (first === undefined) continue;
    const repairMs = median(runs.map(({ repaired }) => repaired.timeMs));
    const growth =
      before === undefined
        ? ''
        : (
            (repairMs / before.timeMs / (streams / before.streams)) **
            (1 / Math.log2(streams / before.streams))
          ).toFixed(2);
    before = { streams, timeMs: repairMs };
    print([
      `2x${streams}`,
      kind,
      median(runs.map(({ read }) => read.timeMs)).toFixed(0),
      median(runs.map(({ merged }) => merged.timeMs)).toFixed(0),
      median(runs.map(({ read, merged }) => merged.timeMs / read.timeMs)).toFixed(1),
      repairMs.toFixed(0),
      median(runs.map(({ read, repaired }) => repaired.timeMs / read.timeMs)).toFixed(1),
      growth,
      outcome(first.repaired.value),
    ]);
  }
}

/** The result the time was spent on, so that nothing is timed that does not work. */
function outcome({ joined, repaired }: MergeResult): string {
  const left = (repaired?.left ?? []).filter(({ rule }) => rule !== 'plan/duplicate-name').length;
  return `${joined?.findings.length ?? 0} findings, ${repaired?.repair.touched ?? 0} boxes, ${left} left, ${repaired?.fresh.length ?? 0} new`;
}

function rig(name: string, plan: object): SideInput {
  return { from: `${name}.json`, inputs: [{ name: `${name}.json`, text: JSON.stringify({ ...plan, rig: name }) }] };
}

/** The same rig with numbers of its own, but for the groups of every hundredth stream. */
function other(streams: number): object {
  let sender = 0;
  const renumber = (value: unknown, key = ''): unknown => {
    if (key === 'senders') sender++;
    if (Array.isArray(value)) return value.map((one) => renumber(one, key));
    if (typeof value === 'object' && value !== null)
      return Object.fromEntries(Object.entries(value).map(([name, one]) => [name, renumber(one, name)]));
    if (typeof value === 'number') return key === 'id' ? value + 2000 : value;
    if (typeof value !== 'string') return value;
    if (key === 'group' && sender % 100 === 0) return value;
    return value
      .replace(/\b(239|10)\.(\d+)\./g, (_, first: string, second: string) => `${first}.${(Number(second) + 16) % 256}.`)
      .replace(/^02:/, '06:');
  };
  return renumber({ ...generatePlan(streams), conventions: undefined }) as object;
}

function timed<T>(task: () => T): { readonly timeMs: number; readonly value: T } {
  const start = performance.now();
  const value = task();
  return { timeMs: performance.now() - start, value };
}

function median(values: readonly number[]): number {
  return [...values].sort((a, b) => a - b)[Math.floor(values.length / 2)] ?? Number.NaN;
}

function print(cells: readonly (string | number)[]): void {
  process.stdout.write(
    `${cells.map((cell, index) => (index === cells.length - 1 ? String(cell) : String(cell).padStart(10))).join(' ')}\n`,
  );
}
