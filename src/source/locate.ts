import type { Container, ContainerSpans, Document, Location, Place, Span } from './document.js';
import { LineIndex } from './line-index.js';

/** Locations of many places at once: each document is scanned at most once. */
export function locateAll(places: Iterable<Place>): (place: Place) => Location {
  const wanted = new Map<Document, Set<Container>>();
  for (const { document, container } of places) {
    const set = wanted.get(document);
    if (set === undefined) wanted.set(document, new Set([container]));
    else set.add(container);
  }
  const found = new Map<Document, { spans: ReadonlyMap<Container, ContainerSpans>; lines: LineIndex }>();
  for (const [document, containers] of wanted) {
    found.set(document, { spans: document.spans(containers), lines: new LineIndex(document.text) });
  }
  return (place) => {
    const known = found.get(place.document);
    const span = known && spanOf(known.spans.get(place.container), place);
    if (known === undefined || span === undefined) return startOf(place.document);
    return toLocation(place.document.name, known.lines, span);
  };
}

export function locate(place: Place): Location {
  return locateAll([place])(place);
}

export function toLocation(file: string, lines: LineIndex, span: Span): Location {
  const start = lines.at(span.start);
  const end = lines.at(span.end);
  return { file, line: start.line, column: start.column, endLine: end.line, endColumn: end.column };
}

function spanOf(spans: ContainerSpans | undefined, place: Place): Span | undefined {
  if (spans === undefined || place.key === undefined) return spans?.self;
  const entry = spans.entries.get(place.key);
  return (place.onKey === true ? entry?.key : undefined) ?? entry?.value ?? spans.self;
}

function startOf(document: Document): Location {
  return { file: document.name, line: 1, column: 1, endLine: 1, endColumn: 1 };
}
