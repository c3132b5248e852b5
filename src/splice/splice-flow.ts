/** Entries between brackets, as JSON has them and YAML may: taking some out and adding some, commas and all. */
import type { Splice } from './splice.js';
import { lineEnd } from './splice.js';

export interface FlowItem {
  readonly key: string | number;
  readonly start: number;
  /** After the value with its own brackets. */
  readonly end: number;
}

export interface Flow {
  readonly text: string;
  /** Offset of the opening bracket. */
  readonly open: number;
  readonly items: readonly FlowItem[];
  /** What stands after a comma where the entries themselves don't show it. */
  readonly gap: '' | ' ';
}

/** Undefined where what stands between the entries can't be told apart. */
export function flowSplices(
  flow: Flow,
  removed: ReadonlySet<string | number>,
  inserted: readonly string[],
): readonly Splice[] | undefined {
  const { text, open, items } = flow;
  const kept = items.filter(({ key }) => !removed.has(key));
  const last = kept.at(-1);
  const gone = removals(flow, removed);
  if (gone === undefined || inserted.length === 0) return gone;
  const [first] = items;
  const final = items.at(-1);
  if (last !== undefined) return [...insertions(flow, last, inserted), ...gone];
  if (first === undefined || final === undefined)
    return [{ start: open + 1, end: open + 1, text: inserted.join(`,${flow.gap}`) }];
  return hasComment(text.slice(first.start, final.end))
    ? undefined
    : [{ start: first.start, end: final.end, text: inserted.join(`,${flow.gap}`) }];
}

/** Whether text between values holds a YAML comment; also true of some text in quotes, which costs nothing but care. */
export function hasComment(text: string): boolean {
  return /(?:^|\s)#/.test(text);
}

/** After an entry, as that one stands after the one before it. */
function insertions({ text, gap: otherwise }: Flow, last: FlowItem, inserted: readonly string[]): readonly Splice[] {
  let from = last.start;
  while (from > 0 && /\s/.test(text.charAt(from - 1))) from--;
  const before = text.slice(from, last.start);
  const ownLine = /[\r\n]/.test(before);
  // The first entry's gap says nothing of what stands after a comma: `{ a: 1 }`.
  const gap = ownLine ? before : text[from - 1] === ',' ? before : otherwise;
  // Only a line of its own is short for sure: a whole plan may stand on one.
  if (ownLine) {
    const end = lineEnd(text, last.end);
    const rest = /^[ \t]*(,?)[ \t]*#/.exec(text.slice(last.end, end));
    if (rest !== null) return behindComment(last.end, end, gap, rest[1] === ',', inserted);
  }
  return [{ start: last.end, end: last.end, text: inserted.map((one) => `,${gap}${one}`).join('') }];
}

/** Behind the comment that stands behind the last entry. */
function behindComment(
  valueEnd: number,
  end: number,
  gap: string,
  commaStands: boolean,
  inserted: readonly string[],
): readonly Splice[] {
  const text = `${gap}${inserted.join(`,${gap}`)}${commaStands ? ',' : ''}`;
  const line = { start: end, end, text };
  return commaStands ? [line] : [{ start: valueEnd, end: valueEnd, text: ',' }, line];
}

function removals({ text, open, items }: Flow, removed: ReadonlySet<string | number>): readonly Splice[] | undefined {
  const splices: Splice[] = [];
  let index = 0;
  while (index < items.length) {
    const first = items[index];
    if (first === undefined || !removed.has(first.key)) {
      index++;
      continue;
    }
    const before = items[index - 1];
    const run = [first];
    for (let item = items[++index]; item !== undefined && removed.has(item.key); item = items[++index]) run.push(item);
    const final = run.at(-1) ?? first;
    const next = items[index];
    if (
      run.some(
        (item, at) => !isPlainGap(text.slice((at === 0 ? before?.end : run[at - 1]?.end) ?? open + 1, item.start)),
      )
    )
      return undefined;
    splices.push(...removal(text, before, run, final, next));
  }
  return splices;
}

function removal(
  text: string,
  before: FlowItem | undefined,
  run: readonly FlowItem[],
  final: FlowItem,
  next: FlowItem | undefined,
): readonly Splice[] {
  const [first = final] = run;
  const noted = hasComment(text.slice(first.start, final.end));
  if (before !== undefined && !noted && !hasComment(text.slice(before.end, first.start)))
    return [{ start: before.end, end: final.end, text: '' }];
  if (next !== undefined && !noted && !hasComment(text.slice(final.end, next.start)))
    return [{ start: first.start, end: next.start, text: '' }];
  if (next === undefined && before === undefined && !noted)
    return [{ start: first.start, end: afterComma(text, final.end), text: '' }];
  // Comments around stay: of each entry just itself and its comma go.
  return run.map(({ start, end }) => ({ start, end: afterComma(text, end), text: '' }));
}

function afterComma(text: string, offset: number): number {
  let at = offset;
  while (/\s/.test(text.charAt(at))) at++;
  return text[at] === ',' ? at + 1 : offset;
}

/** Nothing but blanks, a comma and comments: no anchor, tag or mark of a key. */
function isPlainGap(text: string): boolean {
  return /^[\s,]*$/.test(text.replace(/(^|\s)#[^\r\n]*/g, '$1'));
}
