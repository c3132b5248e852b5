/** What a command is run at: where it writes, what it reads, and where its relative paths start. */
import { readFileSync } from 'node:fs';

export interface Terminal {
  readonly stdout: Screen;
  readonly stderr: { write(text: string): void };
  readonly stdin: Keyboard;
  readonly env: Readonly<Record<string, string | undefined>>;
  /** The folder relative paths are resolved against. */
  readonly cwd: string;
}

export interface Screen {
  write(text: string): void;
  readonly isTTY: boolean;
  /** How wide a terminal is; undefined where the output is none. */
  readonly columns: number | undefined;
}

export interface Keyboard {
  readonly isTTY: boolean;
  /** Everything there is to read. */
  read(): Uint8Array;
  /** Line by line, as somebody types; `prompt` stands before each line that is asked for. */
  converse(): Promise<Conversation>;
}

export interface Conversation extends AsyncIterable<string> {
  prompt(text: string): void;
  close(): void;
}

/** The terminal this process runs at. */
export function processTerminal(): Terminal {
  return {
    stdout: {
      write: (text) => void process.stdout.write(text),
      get isTTY() {
        return isTerminal(process.stdout);
      },
      get columns() {
        return isTerminal(process.stdout) ? process.stdout.columns : undefined;
      },
    },
    stderr: { write: (text) => void process.stderr.write(text) },
    stdin: {
      get isTTY() {
        return isTerminal(process.stdin);
      },
      read: () => readFileSync(0),
      converse,
    },
    env: process.env,
    cwd: process.cwd(),
  };
}

/** Node types `isTTY` as always there; on a pipe or a file it is not. */
function isTerminal(stream: { readonly isTTY?: boolean }): boolean {
  return stream.isTTY === true;
}

async function converse(): Promise<Conversation> {
  const { createInterface } = await import('node:readline');
  const lines = createInterface({ input: process.stdin, output: process.stdout, historySize: 0 });
  return {
    prompt(text) {
      lines.setPrompt(text);
      lines.prompt();
    },
    close: () => {
      lines.close();
    },
    [Symbol.asyncIterator]: () => lines[Symbol.asyncIterator](),
  };
}
