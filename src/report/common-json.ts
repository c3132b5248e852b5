/** Parts that every report for programs has alike. */
import type { Location } from '../source/document.js';
import type { Problem } from '../source/problem.js';

/** An input that could not be read. */
export function problemJson({ what, instead, at }: Problem): unknown {
  return { what, instead, at: locationJson(at) };
}

/** A place in a file; lines and columns count from 1. `where` only for a file that has none. */
export function locationJson({ file, line, column, endLine, endColumn, where }: Location): Location {
  return { file, line, column, endLine, endColumn, ...(where === undefined ? {} : { where }) };
}

/** What made a report. */
export function toolJson(version: string): { readonly name: string; readonly version: string } {
  return { name: 'rigproof', version };
}
