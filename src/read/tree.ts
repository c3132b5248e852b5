/**
 * Builds the value tree of a document whose format has no tree of its own, and remembers where every container, key
 * and value of it stands. Spans are kept as bare numbers: a list of a hundred thousand streams has
 * several hundred thousand containers, and only the few that reach a report are ever turned into objects.
 */
import type { Container } from '../source/document.js';
import {
  textDocument,
  type ContainerSpans,
  type Span,
  type TextDocument,
  type TextParts,
} from '../source/text-document.js';

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
  document(file: Pick<TextParts, 'name' | 'format' | 'text' | 'isList'>, root: Placed): TextDocument;
}

export function createTree(): Tree {
  const spans: SpanStore = { numbers: [], offsets: new Map() };
  return {
    mapping(self, entries) {
      const value: Record<string, unknown> = {};
      const offset = begin(spans, self);
      for (const name of Object.keys(entries)) {
        const entry = entries[name];
        if (entry === undefined) continue;
        value[name] = entry.value;
        push(spans, entry);
      }
      spans.offsets.set(value, offset);
      return { value, span: self };
    },
    sequence(self, items) {
      const offset = begin(spans, self);
      const value = items.map((item) => {
        push(spans, item);
        return item.value;
      });
      spans.offsets.set(value, offset);
      return { value, span: self };
    },
    document(file, root) {
      return textDocument({ ...file, value: root.value, spans: (wanted) => select(spans, wanted) });
    },
  };
}

const NO_KEY = -1;

/** The spans of all containers in one row: a container's own, then value and key of each of its entries. */
interface SpanStore {
  readonly numbers: number[];
  /** Where in the row each container begins. */
  readonly offsets: Map<Container, number>;
}

function begin({ numbers }: SpanStore, self: Span): number {
  return numbers.push(self.start, self.end) - 2;
}

function push({ numbers }: SpanStore, { span, key }: Placed): void {
  numbers.push(span.start, span.end, key?.start ?? NO_KEY, key?.end ?? NO_KEY);
}

function select(spans: SpanStore, wanted: ReadonlySet<Container>): ReadonlyMap<Container, ContainerSpans> {
  const found = new Map<Container, ContainerSpans>();
  for (const container of wanted) {
    const offset = spans.offsets.get(container);
    if (offset !== undefined) found.set(container, unpack(container, spans.numbers, offset));
  }
  return found;
}

function unpack(container: Container, numbers: readonly number[], offset: number): ContainerSpans {
  const at = (index: number): number => numbers[index] ?? 0;
  const entries = new Map<string | number, { readonly key?: Span; readonly value: Span }>();
  const names = Array.isArray(container) ? container.keys() : Object.keys(container);
  let index = offset + 2;
  for (const name of names) {
    const value = { start: at(index), end: at(index + 1) };
    const key = at(index + 2);
    entries.set(name, key === NO_KEY ? { value } : { key: { start: key, end: at(index + 3) }, value });
    index += 4;
  }
  return { self: { start: at(offset), end: at(offset + 1) }, entries };
}
