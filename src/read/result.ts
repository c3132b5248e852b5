import type { Document } from '../source/document.js';
import type { Problem } from '../source/problem.js';

/** Either a document, or the problems that kept it from being read. Readers never throw on bad input. */
export type ReadResult<D extends Document = Document> =
  | { readonly document: D; readonly problems: readonly [] }
  | { readonly document: undefined; readonly problems: readonly Problem[] };
