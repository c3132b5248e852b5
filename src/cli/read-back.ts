/** What is to be written is read first, as whoever gets it will read it: it must say what is meant, or stays unwritten. */
import { inputOf, readDocument } from '../read/index.js';
import type { Problem } from '../source/problem.js';
import { sameValue } from '../splice/same-tree.js';
import { UsageError } from './exit.js';

/** A plan file's text; `meant` is its tree. Throws where it reads back as another. */
export function readsBack(name: string, text: string, format: string, meant: unknown): void {
  // As octets: a letter that UTF-8 can't hold is lost only there.
  const input = inputOf(name, new TextEncoder().encode(text), format);
  const { document, problems } = 'at' in input ? { document: undefined, problems: [input] } : readDocument(input);
  meantAs(name, document?.value, meant, problems);
}

/** What was read back, beside what is meant. Throws where the two differ. */
export function meantAs(name: string, read: unknown, meant: unknown, [problem]: readonly Problem[]): void {
  const plain = JSON.parse(JSON.stringify(meant)) as unknown;
  if (problem === undefined && sameValue(read, plain)) return;
  const why =
    problem === undefined
      ? 'it would not say what is meant'
      : `line ${problem.at.line}, column ${problem.at.column}: ${problem.what}`;
  throw new UsageError(`nothing was written: ${name} could not be read again (${why})`);
}
