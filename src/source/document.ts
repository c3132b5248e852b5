/**
 * What was read: a tree of plain values, and where each value stands in the file.
 *
 * Positions are not copied onto every value. A document keeps the tree exactly as it was read and can say, for any
 * container of that tree, where it and its entries stand. Rules name a place by container and key; only the places that
 * reach a report are looked up, so a clean plan of a million streams pays nothing for its positions.
 */

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

/** A mapping or sequence of the tree, identified by reference. */
export type Container = object;

export type DocumentFormat = 'yaml' | 'json' | 'csv' | 'sdp';

export interface Document {
  /** The file as the user named it, `<stdin>` for standard input. */
  readonly name: string;
  readonly format: DocumentFormat;
  readonly text: string;
  /** The tree, in the shape of `schemas/plan.schema.json`, whatever the format it was read from. */
  readonly value: unknown;
  /** Spans of the wanted containers; one linear pass however many are wanted. */
  spans(wanted: ReadonlySet<Container>): ReadonlyMap<Container, ContainerSpans>;
}

/** A value of a document: an entry of a container, its key, or the container itself. */
export interface Place {
  readonly document: Document;
  readonly container: Container;
  /** Mapping key or sequence index; absent for the container itself. */
  readonly key?: string | number;
  /** Point at the key of the entry instead of its value. */
  readonly onKey?: boolean;
}

/** Lines and columns count from 1; columns count UTF-16 code units, a tab as one. */
export interface Location {
  readonly file: string;
  readonly line: number;
  readonly column: number;
  readonly endLine: number;
  readonly endColumn: number;
}
