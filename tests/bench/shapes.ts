/**
 * `npm run bench:shapes [-- SIZE [PART OF A TITLE]]`: every command on plans that are large in one direction each, at a
 * quarter of a size and at the whole, in one run: milliseconds, growth per doubling (linear is 2) and heap.
 */
import { load } from '../../src/engine.js';
import { COMMANDS } from '../tools/shape-commands.js';
import { SHAPES } from '../tools/shape-plans.js';

const size = Number(process.argv[2] ?? 4000);
const part = process.argv[3] ?? '';
const QUARTER = 4;

process.stdout.write(
  `${'shape'.padEnd(40)}command   ${'size'.padStart(8)}  quarter ms  whole ms  growth  heap MB  says\n`,
);
for (const shape of SHAPES) {
  for (const [name, run] of COMMANDS) {
    const title = `${shape.name.padEnd(40)}${name.padEnd(10)}`;
    if (!title.includes(part)) continue;
    const [small, large] = [shape.make(size / QUARTER), shape.make(size)];
    run(small);
    let [quarter, whole, said] = [Infinity, Infinity, 0];
    for (let round = 0; round < 3 && (round === 0 || whole < 5000); round++) {
      quarter = Math.min(
        quarter,
        timed(() => run(small)),
      );
      whole = Math.min(
        whole,
        timed(() => {
          said = run(large);
        }),
      );
    }
    const unread = load({ inputs: large, problems: [] }).whole ? '' : '  NOT READ';
    const growth = (whole / quarter) ** (1 / Math.log2(QUARTER));
    const heap = process.memoryUsage().heapUsed / 1e6;
    process.stdout.write(
      `${title}${String(size).padStart(8)}${quarter.toFixed(1).padStart(12)}${whole.toFixed(1).padStart(10)}${growth.toFixed(2).padStart(8)}${heap.toFixed(0).padStart(9)}  ${said}${unread}\n`,
    );
  }
}

function timed(work: () => void): number {
  const start = performance.now();
  work();
  return performance.now() - start;
}
