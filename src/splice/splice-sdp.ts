/** Values of a session description (RFC 8866): an address or a number as it stands, and nothing around it. */
import { oneOrRefuse, refuse, together, valueAt, type Spliced, type ContainerChange } from './splice.js';

export function spliceSdp({ text, container, spans, replaced, removed, inserted }: ContainerChange): Spliced {
  return together([
    ...replaced.map((edit) => {
      const span = spans.entries.get(edit.key)?.value;
      // A list of values or a text of several words is more than one place of a line.
      const now = typeof edit.value === 'object' ? '' : String(edit.value);
      const exact = span !== undefined && text.slice(span.start, span.end) === String(valueAt(container, edit.key));
      return oneOrRefuse(edit, exact && /^[\x21-\x7e]+$/.test(now) ? { ...span, text: now } : undefined);
    }),
    refuse([...removed, ...inserted], 'a session description has lines of its own for this'),
  ]);
}
