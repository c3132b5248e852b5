/** What a command is run at: where it writes, what it reads, and where its relative paths start. */
import { readStandardInput, type ReadFault } from '../disk/read.js';
import { writeToStream } from '../disk/streams.js';
import type { Ledger } from './ledger.js';

export interface Terminal {
  readonly stdout: Screen;
  readonly stderr: { write(text: string): void };
  readonly stdin: Keyboard;
  readonly env: Readonly<Record<string, string | undefined>>;
  /** The folder relative paths are resolved against. */
  readonly cwd: string;
  /** What this call may read and has read; `runProgram` opens one for each. */
  readonly ledger?: Ledger;
}

export interface Screen {
  write(text: string): void;
  readonly isTTY: boolean;
  /** How wide a terminal is; undefined where the output is none. */
  readonly columns: number | undefined;
}

export interface Keyboard {
  readonly isTTY: boolean;
  /** Everything there is to read, up to so many octets; or why there is nothing. */
  read(most: number): Uint8Array | ReadFault;
  /** Line by line, as somebody types; `prompt` stands before each line that is asked for. */
  converse(): Promise<Conversation>;
}

export interface Conversation extends AsyncIterable<string> {
  prompt(text: string): void;
  close(): void;
}

/** The terminal this process runs at. */
export function processTerminal(): Terminal {
  let readerGone = false;
  return {
    stdout: {
      write: (text) => {
        // A console takes letters, not octets, on some systems.
        if (isTerminal(process.stdout)) process.stdout.write(text);
        // A reader that stops early (`rigproof lint plan.yaml | head`) is not a failure.
        else if (!readerGone) readerGone = !writeToStream(1, text);
      },
      get isTTY() {
        return isTerminal(process.stdout);
      },
      get columns() {
        return isTerminal(process.stdout) ? process.stdout.columns : undefined;
      },
    },
    stderr: {
      write: (text) => {
        try {
          if (isTerminal(process.stderr)) process.stderr.write(text);
          else writeToStream(2, text);
        } catch {
          // There is nowhere left to say it.
        }
      },
    },
    stdin: {
      get isTTY() {
        return isTerminal(process.stdin);
      },
      read: readStandardInput,
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
