/**
 * Builds the value tree of a document whose format has no tree of its own, and remembers where every container, key
 * and value of it stands. Spans are kept as bare numbers per container: a list of a hundred thousand streams has
 * several hundred thousand containers, and only the few that reach a report are ever turned into objects.
 */
import type { Container, ContainerSpans, Document, DocumentFormat, Span } from '../source/document.js';

/** A value of the tree and where it stands; `key` is where its name stands, when the file writes one. */
export interface Placed<T = unknown> {
  readonly value: T;
  readonly span: Span;
  readonly key?: Span | undefined;
}

export interface Tree {
  /** A mapping of the entries that are not undefined. */
  mapping(self: Span, entries: Readonly<Record<string, Placed | undefined>>): Placed<object>;
  sequence(self: Span, items: readonly Placed[]): Placed<readonly unknown[]>;
  document(name: string, format: DocumentFormat, text: string, root: Placed): Document;
}

export function createTree(): Tree {
  const spans = new Map<Container, readonly number[]>();
  return {
    mapping(self, entries) {
      const value: Record<string, unknown> = {};
      const numbers = [self.start, self.end];
      for (const [name, entry] of Object.entries(entries)) {
        if (entry === undefined) continue;
        value[name] = entry.value;
        pushSpans(numbers, entry);
      }
      spans.set(value, numbers);
      return { value, span: self };
    },
    sequence(self, items) {
      const value = items.map((item) => item.value);
      const numbers = [self.start, self.end];
      for (const item of items) pushSpans(numbers, item);
      spans.set(value, numbers);
      return { value, span: self };
    },
    document(name, format, text, root) {
      return { name, format, text, value: root.value, spans: (wanted) => select(spans, wanted) };
    },
  };
}

const NO_KEY = -1;

function pushSpans(numbers: number[], { span, key }: Placed): void {
  numbers.push(span.start, span.end, key?.start ?? NO_KEY, key?.end ?? NO_KEY);
}

function select(
  spans: ReadonlyMap<Container, readonly number[]>,
  wanted: ReadonlySet<Container>,
): ReadonlyMap<Container, ContainerSpans> {
  const found = new Map<Container, ContainerSpans>();
  for (const container of wanted) {
    const numbers = spans.get(container);
    if (numbers !== undefined) found.set(container, unpack(container, numbers));
  }
  return found;
}

function unpack(container: Container, numbers: readonly number[]): ContainerSpans {
  const at = (index: number): number => numbers[index] ?? 0;
  const entries = new Map<string | number, { readonly key?: Span; readonly value: Span }>();
  const names = Array.isArray(container) ? container.keys() : Object.keys(container);
  let index = 2;
  for (const name of names) {
    const value = { start: at(index), end: at(index + 1) };
    const key = at(index + 2);
    entries.set(name, key === NO_KEY ? { value } : { key: { start: key, end: at(index + 3) }, value });
    index += 4;
  }
  return { self: { start: at(0), end: at(1) }, entries };
}
