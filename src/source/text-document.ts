/** Documents that are text: every value of the tree has a span of characters. */
import type { Container, Document, Locator, Place } from './document.js';
import { LineIndex } from './line-index.js';
import { startOf, toLocation } from './locate.js';

/** Half-open range of UTF-16 offsets in the text of one document. */
export interface Span {
  readonly start: number;
  readonly end: number;
}

/** Where a container stands, and where the key and the value of each of its entries stand. */
export interface ContainerSpans {
  readonly self: Span;
  /** By mapping key or sequence index. A sequence entry has no key span. */
  readonly entries: ReadonlyMap<string | number, { readonly key?: Span; readonly value: Span }>;
}

export interface TextDocument extends Document {
  readonly content: string;
  readonly text: string;
  /** Spans of the wanted containers; one linear pass however many are wanted. */
  spans(wanted: ReadonlySet<Container>): ReadonlyMap<Container, ContainerSpans>;
}

/** What a reader of text knows of a document. */
export interface TextParts extends Pick<TextDocument, 'name' | 'format' | 'text' | 'value' | 'spans'> {
  readonly isList?: boolean;
}

export function textDocument(parts: TextParts): TextDocument {
  return {
    isList: false,
    ...parts,
    content: parts.text,
    locate: (places) => locateIn(parts, places),
  };
}

export function isText(document: Document): document is TextDocument {
  return 'spans' in document;
}

function locateIn({ name, text, spans }: TextParts, places: Iterable<Place>): Locator {
  const wanted = new Set<Container>();
  for (const { container } of places) wanted.add(container);
  const found = spans(wanted);
  const lines = new LineIndex(text);
  return (place) => {
    const span = spanOf(found.get(place.container), place);
    return span === undefined ? startOf(name) : toLocation(name, lines, span);
  };
}

function spanOf(spans: ContainerSpans | undefined, place: Place): Span | undefined {
  if (spans === undefined || place.key === undefined) return spans?.self;
  const entry = spans.entries.get(place.key);
  return (place.onKey === true ? entry?.key : undefined) ?? entry?.value ?? spans.self;
}
