/** Bytes to text. */
import type { Problem } from '../source/problem.js';
import { LineIndex } from '../source/line-index.js';
import { toLocation } from '../source/locate.js';

export type TextResult = { readonly text: string } | { readonly problem: Problem };

/** UTF-8, or UTF-16 with a byte order mark; the mark is dropped, so that line 1 column 1 is the first character. */
export function decode(name: string, bytes: Uint8Array): TextResult {
  const [first, second, third] = bytes;
  if (first === 0xff && second === 0xfe) return { text: new TextDecoder('utf-16le').decode(bytes) };
  if (first === 0xfe && second === 0xff) return { text: new TextDecoder('utf-16be').decode(bytes) };
  const body = first === 0xef && second === 0xbb && third === 0xbf ? bytes.subarray(3) : bytes;
  try {
    return { text: new TextDecoder('utf-8', { fatal: true, ignoreBOM: true }).decode(body) };
  } catch (error) {
    if (!(error instanceof TypeError)) return tooLarge(name);
  }
  const lenient = new TextDecoder('utf-8', { ignoreBOM: true }).decode(body);
  const at = Math.max(0, lenient.indexOf('\ufffd'));
  return {
    problem: {
      at: toLocation(name, new LineIndex(lenient), { start: at, end: at + 1 }),
      what: 'there are bytes here that are not UTF-8 text',
      instead: 'save the file as UTF-8; a spreadsheet offers "CSV UTF-8" when saving',
    },
  };
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
