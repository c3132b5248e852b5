/**
 * `npm run bench:allocate [-- SIZE…]`: allocating a request over writing the plan that comes of it, and growth from size to
 * size, in one run; medians of three.
 */
import { allocate, type Allocation } from '../../src/allocate/allocate.js';
import { planText } from '../../src/allocate/plan-text.js';
import { rawRequest, readRequest, type RawRequest } from '../../src/allocate/request.js';

const STREAMS_PER_DEVICE = 4;
const sizes = process.argv.slice(2).map(Number);

print(['streams', 'allocate ms', 'write ms', 'allocate/write', 'growth', 'MB']);
let before: { readonly streams: number; readonly timeMs: number } | undefined;
for (const streams of sizes.length > 0 ? sizes : [1_000, 10_000, 100_000]) {
  const request = requestFor(streams);
  const runs = Array.from({ length: 3 }, () => {
    const made = timed(() => met(allocate(request)));
    const written = timed(() => planText(made.value, request));
    return { made, written };
  });
  const timeMs = median(runs.map(({ made }) => made.timeMs));
  const growth =
    before === undefined
      ? ''
      : ((timeMs / before.timeMs / (streams / before.streams)) ** (1 / Math.log2(streams / before.streams))).toFixed(2);
  before = { streams, timeMs };
  print([
    String(streams),
    timeMs.toFixed(0),
    median(runs.map(({ written }) => written.timeMs)).toFixed(0),
    median(runs.map(({ made, written }) => made.timeMs / written.timeMs)).toFixed(2),
    growth,
    ((runs[0]?.written.value.length ?? 0) / 1e6).toFixed(1),
  ]);
}

/** Cameras of four streams in as many areas as there are thousands of them. */
function requestFor(streams: number): RawRequest {
  const devices = streams / STREAMS_PER_DEVICE;
  const areas = Array.from({ length: Math.max(1, Math.ceil(devices / 1000)) }, (_, index) => `area ${index + 1}`);
  const text = JSON.stringify({
    rig: 'Sanderling',
    growth: 10,
    networks: [
      { name: 'red', role: 'media', leg: 1 },
      { name: 'blue', role: 'media', leg: 2 },
    ],
    areas: areas.map((name) => ({ name })),
    kinds: [
      {
        name: 'camera',
        interfaces: ['red', 'blue'].map((name) => ({ name, network: name, rate: '25G' })),
        senders: Array.from({ length: STREAMS_PER_DEVICE }, (_, index) => ({
          name: `out-${index + 1}`,
          essence: 'video',
        })),
      },
    ],
    devices: areas.map((area, index) => ({
      name: `cam-${index + 1}`,
      kind: 'camera',
      area,
      count: Math.min(1000, devices - index * 1000),
    })),
  });
  const { document } = readRequest({ name: 'request.json', text });
  if (document === undefined) throw new Error('the request of the benchmark is not one');
  return rawRequest(document);
}

function met(outcome: ReturnType<typeof allocate>): Allocation {
  if ('refusals' in outcome) throw new Error(outcome.refusals.map(({ what }) => what).join('; '));
  return outcome;
}

function timed<T>(task: () => T): { readonly timeMs: number; readonly value: T } {
  const start = performance.now();
  const value = task();
  return { timeMs: performance.now() - start, value };
}

function median(values: readonly number[]): number {
  return [...values].sort((a, b) => a - b)[Math.floor(values.length / 2)] ?? Number.NaN;
}

function print(cells: readonly string[]): void {
  process.stdout.write(`${cells.map((cell) => cell.padStart(14)).join(' ')}\n`);
}
