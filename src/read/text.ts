/** Bytes to text. */
import type { Problem } from '../source/problem.js';
import { LineIndex } from '../source/line-index.js';
import { toLocation } from '../source/locate.js';

export type TextResult = { readonly text: string } | { readonly problem: Problem };

/** UTF-8, or UTF-16 with a byte order mark; the mark is dropped, so that line 1 column 1 is the first character. */
export function decode(name: string, bytes: Uint8Array): TextResult {
  const { encoding, said, body } = encodingOf(bytes);
  try {
    return { text: new TextDecoder(encoding, { fatal: true, ignoreBOM: true }).decode(body) };
  } catch (error) {
    if (!(error instanceof TypeError)) return tooLarge(name);
  }
  const lenient = new TextDecoder(encoding, { ignoreBOM: true }).decode(body);
  const at = Math.max(0, lenient.indexOf('\ufffd'));
  return {
    problem: {
      at: toLocation(name, new LineIndex(lenient), { start: at, end: at + 1 }),
      what: `there are bytes here that are not ${said} text`,
      instead: 'save the file as UTF-8; a spreadsheet offers "CSV UTF-8" when saving',
    },
  };
}

/** What the first bytes say (Unicode 15 §23.8), and the bytes after them. */
function encodingOf(bytes: Uint8Array): {
  readonly encoding: 'utf-8' | 'utf-16le' | 'utf-16be';
  readonly said: string;
  readonly body: Uint8Array;
} {
  const [first, second, third] = bytes;
  if (first === 0xff && second === 0xfe) return { encoding: 'utf-16le', said: 'UTF-16', body: bytes.subarray(2) };
  if (first === 0xfe && second === 0xff) return { encoding: 'utf-16be', said: 'UTF-16', body: bytes.subarray(2) };
  const marked = first === 0xef && second === 0xbb && third === 0xbf;
  return { encoding: 'utf-8', said: 'UTF-8', body: marked ? bytes.subarray(3) : bytes };
}

function tooLarge(name: string): TextResult {
  const at = { file: name, line: 1, column: 1, endLine: 1, endColumn: 1 };
  return {
    problem: {
      at,
      what: 'this file is too large to read in one piece',
      instead: 'split the plan into several files and name them all, or their folder',
    },
  };
}
