/** One command line in this process: the same code as the program, without starting one. */
import { runProgram } from '../../src/cli/program.js';
import type { Conversation, Terminal } from '../../src/edge/terminal.js';

export interface RunOptions {
  /** The folder relative paths start from. */
  readonly cwd?: string;
  readonly input?: string | Uint8Array;
  readonly env?: Readonly<Record<string, string>>;
  /** A terminal this wide on both ends; else pipes. */
  readonly columns?: number;
}

export interface Run {
  readonly status: number;
  readonly stdout: string;
  readonly stderr: string;
}

export async function run(words: readonly string[], options: RunOptions = {}): Promise<Run> {
  const { terminal, shown } = terminalOf(options);
  const status = await runProgram(words, terminal);
  return { status, ...shown() };
}

/** A terminal that reads what it is given, and tells what has been written to it. */
export function terminalOf(options: RunOptions): {
  readonly terminal: Terminal;
  readonly shown: () => Omit<Run, 'status'>;
} {
  const out: string[] = [];
  const err: string[] = [];
  const { input = '', columns } = options;
  const bytes = typeof input === 'string' ? new TextEncoder().encode(input) : input;
  const stdout = {
    write: (text: string) => void out.push(text),
    isTTY: columns !== undefined,
    columns,
  };
  const terminal: Terminal = {
    stdout,
    stderr: { write: (text) => void err.push(text) },
    stdin: {
      isTTY: columns !== undefined,
      read: () => bytes,
      converse: () => Promise.resolve(typed(new TextDecoder().decode(bytes), stdout)),
    },
    env: options.env ?? {},
    cwd: options.cwd ?? process.cwd(),
  };
  return { terminal, shown: () => ({ stdout: out.join(''), stderr: err.join('') }) };
}

/** Somebody who types these lines, whatever is asked, and then closes the terminal. */
function typed(text: string, stdout: Terminal['stdout']): Conversation {
  const lines = text === '' ? [] : text.replace(/\n$/, '').split('\n');
  return {
    prompt: (words) => {
      stdout.write(words);
    },
    close: () => undefined,
    async *[Symbol.asyncIterator]() {
      for (const line of lines) yield await Promise.resolve(line);
    },
  };
}
