/** The thread that shows how long a command has worked, from its first second on. */
import { workerData } from 'node:worker_threads';
import { writeToStream } from '../disk/streams.js';
import { LINE, type ProgressData } from './progress.js';

const { shared } = workerData as ProgressData;
const state = new Int32Array(shared, 0, 1);
const shown = new Int32Array(shared, Int32Array.BYTES_PER_ELEMENT, 1);
const start = performance.now();

const timer = setInterval(() => {
  if (Atomics.compareExchange(state, 0, LINE.idle, LINE.writing) !== LINE.idle) {
    clearInterval(timer);
    return;
  }
  const seconds = Math.floor((performance.now() - start) / 1000);
  try {
    writeToStream(2, `\rrigproof: working, ${String(seconds)} s`);
    Atomics.store(shown, 0, 1);
  } catch {
    // A terminal that is gone needs no line.
  }
  Atomics.store(state, 0, LINE.idle);
  Atomics.notify(state, 0);
}, 1000);
