/** Entries of a YAML file. */
import type { Edit } from '../edits/entry.js';
import { blockSplices } from './splice-block.js';
import { flowSplices, hasComment, type FlowItem } from './splice-flow.js';
import {
  keysOf,
  newEntries,
  oneOrRefuse,
  refuse,
  together,
  valueAt,
  type Splice,
  type Spliced,
  type ContainerChange,
} from './splice.js';
import { afterColon, closeOf, endInBlock, endInFlow, isFlow } from './yaml-ends.js';
import { writeYaml, writeYamlEntry } from './yaml-text.js';

export function spliceYaml(change: ContainerChange): Spliced {
  const { text, container, spans, replaced, removed, inserted } = change;
  const parts = replaced.map((edit) => oneOrRefuse(edit, replacement(change, edit)));
  if (removed.length === 0 && inserted.length === 0) return together(parts);
  const flow = isFlow(text, spans.self.start);
  const items = itemsOf(change, flow ? endInFlow : endInBlock);
  const list = Array.isArray(container);
  const fresh = newEntries(inserted).map(({ key, value }) =>
    list ? writeYaml(value) : writeYamlEntry(String(key), value),
  );
  const splices =
    items &&
    (flow
      ? flowSplices({ text, open: spans.self.start, items, gap: ' ' }, keysOf(removed), fresh)
      : blockSplices({ text, start: spans.self.start, items, list }, keysOf(removed), fresh));
  return together([...parts, splices === undefined ? refuse([...removed, ...inserted]) : { splices, refused: [] }]);
}

function itemsOf(
  { text, container, spans }: ContainerChange,
  endOf: typeof endInFlow,
): readonly FlowItem[] | undefined {
  const items: FlowItem[] = [];
  for (const [key, entry] of spans.entries) {
    const end = endOf(text, entry.value, valueAt(container, key), entry.key);
    if (end === undefined) return undefined;
    items.push({ key, start: (entry.key ?? entry.value).start, end });
  }
  return items;
}

function replacement({ text, container, spans }: ContainerChange, { key, value }: Edit): Splice | undefined {
  const entry = spans.entries.get(key);
  if (entry === undefined || value === undefined) return undefined;
  const { start, end } = entry.value;
  const old = valueAt(container, key);
  const written = text.slice(start, end);
  if (entry.key !== undefined && start === end && !isFlow(text, start)) {
    // `key:` with nothing after it, or a key without even a colon.
    const colon = afterColon(text, entry.key.end);
    const at = colon ?? entry.key.end;
    return { start: at, end: at, text: `${colon === undefined ? ': ' : ' '}${writeYaml(value)}` };
  }
  if (start === end && !isFlow(text, start)) return undefined;
  if (typeof old !== 'object' || old === null || written.startsWith('*')) {
    const gap = entry.key === undefined ? '' : text.slice(entry.key.end, start);
    // Text in lines of its own (`|`, `>`) has its mark before the value.
    return /[|>]/.test(gap) ? undefined : { start, end, text: writeYaml(value, written) };
  }
  if (isFlow(text, start)) {
    const close = closeOf(text, start);
    if (close === undefined || hasComment(text.slice(start, close))) return undefined;
    return { start, end: close, text: writeYaml(value) };
  }
  const close = endInBlock(text, entry.value, old, entry.key);
  const from = entry.key?.end ?? start;
  if (close === undefined || hasComment(text.slice(from, close))) return undefined;
  if (entry.key === undefined) return { start, end: close, text: writeYaml(value) };
  return /^[ \t]*:\s+$/.test(text.slice(from, start))
    ? { start: from, end: close, text: `: ${writeYaml(value)}` }
    : undefined;
}
