/** Characters of a text replaced by others, and what a format's splicer is told and answers. */
import type { Container } from '../source/document.js';
import type { ContainerSpans, Span, TextDocument } from '../source/text-document.js';
import type { Edit, EditValue } from '../edits/entry.js';

/** Characters of a text and what stands there from now on. */
export interface Splice extends Span {
  readonly text: string;
}

/** What is to change in one container. */
export interface ContainerChange {
  readonly text: string;
  readonly container: Container;
  readonly spans: ContainerSpans;
  /** Entries that are there and say something else from now on. */
  readonly replaced: readonly Edit[];
  readonly removed: readonly Edit[];
  /** Entries that are not there yet; in a list, in the order they follow its last one. */
  readonly inserted: readonly Edit[];
}

/** An edit that can't be written. */
export interface Refusal {
  readonly edit: Edit;
  /** Absent: because of how the entry is written. */
  readonly why?: string;
}

export interface Spliced {
  readonly splices: readonly Splice[];
  readonly refused: readonly Refusal[];
}

/** What to write for the edits of one container. */
export type Splicer = (change: ContainerChange) => Spliced;

/** Prepares a splicer for a document. */
export type CreateSplicer = (document: TextDocument) => Splicer;

export const NOTHING: Spliced = { splices: [], refused: [] };

export function refuse(edits: readonly Edit[], why?: string): Spliced {
  return { splices: [], refused: edits.map((edit) => (why === undefined ? { edit } : { edit, why })) };
}

/** One edit's splice, or its refusal where there is none. */
export function oneOrRefuse(edit: Edit, splice: Splice | undefined): Spliced {
  return splice === undefined ? refuse([edit]) : { splices: [splice], refused: [] };
}

export function together(parts: readonly Spliced[]): Spliced {
  return {
    splices: parts.flatMap(({ splices }) => splices),
    refused: parts.flatMap(({ refused }) => refused),
  };
}

/** What an entry of a container says; undefined where it has no such entry. */
export function valueAt(container: Container, key: string | number): unknown {
  return Object.hasOwn(container, key) ? (container as Readonly<Record<string | number, unknown>>)[key] : undefined;
}

/** The keys of edits. */
export function keysOf(edits: readonly Edit[]): ReadonlySet<string | number> {
  return new Set(edits.map(({ key }) => key));
}

/** The new entries of a container with their values; edits without one insert nothing. */
export function newEntries(
  edits: readonly Edit[],
): readonly { readonly key: string | number; readonly value: EditValue }[] {
  return edits.flatMap(({ key, value }) => (value === undefined ? [] : [{ key, value }]));
}

/** A splice with the place its container begins at, which says how deep it lies. */
export interface PlacedSplice {
  readonly splice: Splice;
  readonly containerStart: number;
}

/**
 * The text with all splices made; undefined where two of them touch the same characters. Of insertions at one place
 * those of the inner container come first.
 */
export function spliceText(text: string, splices: readonly PlacedSplice[]): string | undefined {
  const sorted = splices.toSorted(
    (a, b) => a.splice.start - b.splice.start || a.splice.end - b.splice.end || b.containerStart - a.containerStart,
  );
  const parts: string[] = [];
  let at = 0;
  let before: Splice | undefined;
  for (const { splice } of sorted) {
    // Two entries of the tree may stand on the same characters, as a port that both legs of a row share.
    if (before !== undefined && isSame(before, splice)) continue;
    if (splice.start < at) return undefined;
    parts.push(text.slice(at, splice.start), splice.text);
    at = splice.end;
    before = splice;
  }
  parts.push(text.slice(at));
  return parts.join('');
}

function isSame(a: Splice, b: Splice): boolean {
  return a.start < a.end && a.start === b.start && a.end === b.end && a.text === b.text;
}

/** Offset of the first character of the line that holds an offset. */
export function lineStart(text: string, offset: number): number {
  let start = offset;
  while (start > 0 && text[start - 1] !== '\n' && text[start - 1] !== '\r') start--;
  return start;
}

/** Offset of the line break, or of the end of the text, at or after an offset. */
export function lineEnd(text: string, offset: number): number {
  let end = offset;
  while (end < text.length && text[end] !== '\n' && text[end] !== '\r') end++;
  return end;
}

/** The line break at an offset: `\r\n`, `\n`, `\r` or nothing. */
export function breakAt(text: string, offset: number): string {
  if (text[offset] === '\r') return text[offset + 1] === '\n' ? '\r\n' : '\r';
  return text[offset] === '\n' ? '\n' : '';
}

/** Offset of the line break that ends the line before; the line's own start where it is the first. */
export function breakBefore(text: string, start: number): number {
  if (text[start - 1] === '\n') return text[start - 2] === '\r' ? start - 2 : start - 1;
  return text[start - 1] === '\r' ? start - 1 : start;
}
