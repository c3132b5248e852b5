/**
 * Signs of life while a command works: a line on the terminal after a second, gone before anything else is written. The
 * work itself is one piece, so the line is another thread's.
 */
import { Worker } from 'node:worker_threads';
import type { Terminal } from './terminal.js';

/** Of the number both threads share: nobody writes, the line is being written, nothing more is to be written. */
export const LINE = { idle: 0, writing: 1, over: 2 } as const;

export interface ProgressData {
  readonly shared: SharedArrayBuffer;
}

/** A terminal whose line is erased by the first word that is said there, or by `end`. */
export interface Progress {
  readonly terminal: Terminal;
  readonly end: () => void;
}

const ERASE = '\r\u001b[K';

/** `line`: the module that shows it; absent where standard error is no terminal. */
export function withProgress(terminal: Terminal, line: URL | undefined): Progress {
  if (line === undefined) return { terminal, end: () => undefined };
  const shared = new SharedArrayBuffer(2 * Int32Array.BYTES_PER_ELEMENT);
  const [state, shown] = [new Int32Array(shared, 0, 1), new Int32Array(shared, Int32Array.BYTES_PER_ELEMENT, 1)];
  const workerData: ProgressData = { shared };
  const worker = new Worker(line, { workerData });
  // No work fails for want of a line.
  worker.on('error', () => undefined);
  worker.unref();
  const stop = (): void => {
    if (Atomics.load(state, 0) === LINE.over) return;
    // Waits for a line that is just being written.
    while (Atomics.compareExchange(state, 0, LINE.idle, LINE.over) === LINE.writing)
      Atomics.wait(state, 0, LINE.writing, 10);
    if (Atomics.load(shown, 0) > 0) terminal.stderr.write(ERASE);
  };
  const wrapped: Terminal = {
    ...terminal,
    stdout: {
      write: (text) => {
        stop();
        terminal.stdout.write(text);
      },
      get isTTY() {
        return terminal.stdout.isTTY;
      },
      get columns() {
        return terminal.stdout.columns;
      },
    },
    stderr: {
      write: (text) => {
        stop();
        terminal.stderr.write(text);
      },
    },
    stdin: {
      get isTTY() {
        return terminal.stdin.isTTY;
      },
      // Whoever types needs the line, and no clock.
      read: (most) => {
        stop();
        return terminal.stdin.read(most);
      },
      converse: () => {
        stop();
        return terminal.stdin.converse();
      },
    },
  };
  return { terminal: wrapped, end: stop };
}
