import { groupBy } from '../collections/group-by.js';
import type { Document, Location, Locator, Place } from './document.js';
import type { LineIndex } from './line-index.js';

/** Locations of many places at once: each document is asked at most once. */
export function locateAll(places: Iterable<Place>): Locator {
  const found = new Map<Document, Locator>();
  for (const [document, own] of groupBy(places, (place) => place.document)) found.set(document, document.locate(own));
  return (place) => found.get(place.document)?.(place) ?? startOf(place.document.name);
}

export function locate(place: Place): Location {
  return locateAll([place])(place);
}

/** A range of characters as lines and columns. */
export function toLocation(
  file: string,
  lines: LineIndex,
  span: { readonly start: number; readonly end: number },
): Location {
  const start = lines.at(span.start);
  const end = lines.at(span.end);
  return { file, line: start.line, column: start.column, endLine: end.line, endColumn: end.column };
}

/** The start of a file: of what stands nowhere in it, or in the whole of it. */
export function startOf(file: string): Location {
  return { file, line: 1, column: 1, endLine: 1, endColumn: 1 };
}

/** `7:3`, or what the file calls the place. */
export function positionOf({ line, column, where }: Location): string {
  return where ?? `${line}:${column}`;
}
