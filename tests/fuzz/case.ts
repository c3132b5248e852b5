/** What one part of the fuzzing gives and judges: files, by name, as somebody would lay them into a folder. */
import type fc from 'fast-check';

export type Content = string | Uint8Array;
export type Files = Readonly<Record<string, Content>>;

export interface Part {
  readonly name: string;
  readonly about: string;
  readonly files: fc.Arbitrary<Files>;
  /** Throws what is wrong; gives how many commands were run. */
  readonly judge: (files: Files, folder: string) => Promise<number>;
  /** Tries of the short run that is part of the tests. */
  readonly short: number;
  /** Commands of a try that writes nothing; tries of which none goes further would prove nothing. */
  readonly refused?: number;
}

/** Thrown by what judges; its first line is the name of the fault, by which one fault is counted once. */
export class Broken extends Error {
  override readonly name = 'Broken';
}

export function fault(what: string, ...shown: readonly string[]): never {
  throw new Broken([what, ...shown].join('\n'));
}

export function bytesOf(content: Content): Uint8Array {
  return typeof content === 'string' ? new TextEncoder().encode(content) : content;
}
