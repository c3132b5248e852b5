/** Entries of a JSON file (RFC 8259). */
import type { ContainerSpans } from '../source/text-document.js';
import { flowSplices } from './splice-flow.js';
import { keysOf, newEntries, oneOrRefuse, refuse, together, type Spliced, type ContainerChange } from './splice.js';

export function spliceJson(change: ContainerChange): Spliced {
  const { text, container, spans, replaced, removed, inserted } = change;
  const parts = replaced.map((edit) => {
    const span = spans.entries.get(edit.key)?.value;
    return oneOrRefuse(edit, span && { ...span, text: JSON.stringify(edit.value) });
  });
  if (removed.length === 0 && inserted.length === 0) return together(parts);
  const list = Array.isArray(container);
  const colon = colonOf(text, spans);
  const fresh = newEntries(inserted).map(({ key, value }) =>
    list ? JSON.stringify(value) : `${JSON.stringify(String(key))}${colon}${JSON.stringify(value)}`,
  );
  const items = Array.from(spans.entries, ([key, entry]) => ({
    key,
    start: (entry.key ?? entry.value).start,
    end: entry.value.end,
  }));
  const splices = flowSplices(
    { text, open: spans.self.start, items, gap: colon === ':' ? '' : ' ' },
    keysOf(removed),
    fresh,
  );
  return together([...parts, splices === undefined ? refuse([...removed, ...inserted]) : { splices, refused: [] }]);
}

/** What the neighbours have between key and value. */
function colonOf(text: string, spans: ContainerSpans): string {
  for (const { key, value } of spans.entries.values()) if (key !== undefined) return text.slice(key.end, value.start);
  return ': ';
}
