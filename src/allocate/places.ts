/** Paths of a request as places in its text. */
import type { Document, Place } from '../source/document.js';
import type { RequestPath } from './refusal.js';

/** The place of a path, or of as much of it as is written. */
export function placeOfPath(document: Document, path: RequestPath): Place {
  let container: object = isTree(document.value) ? document.value : {};
  let key: string | number | undefined;
  for (const step of path) {
    if (key !== undefined) {
      const next = (container as Readonly<Record<string | number, unknown>>)[key];
      if (!isTree(next)) break;
      container = next;
    }
    if (!Object.hasOwn(container, step)) {
      key = undefined;
      break;
    }
    key = step;
  }
  return key === undefined ? { document, container } : { document, container, key };
}

function isTree(value: unknown): value is object {
  return typeof value === 'object' && value !== null;
}
