import type { Inputs } from '../plan/load.js';
import { readInputs as readForCall } from './files.js';
import { createLedger } from './ledger.js';

/** Where paths lead; left out, where this process stands. */
export interface InputOptions {
  readonly stdinFormat?: string | undefined;
  readonly cwd?: string;
  readonly stdin?: { read(): Uint8Array };
  /** Octets that are read of one file at most: 256 MB. */
  readonly mostBytes?: number;
}

/**
 * The inputs behind paths, each file once, however often and by whatever name it is given. A folder stands for every file
 * below it whose ending a reader takes, in order of name; links are followed; hidden files and `node_modules` are passed
 * over. `-` is standard input. Where a writing was cut off nothing is read past it: it is a problem.
 */
export function readInputs(paths: readonly string[], { mostBytes, ...options }: InputOptions = {}): Inputs {
  const ledger = createLedger();
  return readForCall(paths, { ...options, ledger: { ...ledger, mostBytes: mostBytes ?? ledger.mostBytes } });
}
