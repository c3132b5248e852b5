/** Entries of YAML in lines of their own: taking out whole lines and adding some, in the indentation of their neighbours. */
import { hasComment, type FlowItem } from './splice-flow.js';
import { breakAt, breakBefore, lineEnd, lineStart, type Splice } from './splice.js';

export interface Block {
  readonly text: string;
  /** Where the container begins: its first key or its first dash. */
  readonly start: number;
  readonly items: readonly FlowItem[];
  readonly list: boolean;
}

/** An entry with where its key or dash stands. */
interface Item extends FlowItem {
  /** Start of its line. */
  readonly line: number;
  /** What stands before the key or dash on its line. */
  readonly prefix: string;
}

/** Undefined where the lines hold more than these entries. */
export function blockSplices(
  block: Block,
  removed: ReadonlySet<string | number>,
  inserted: readonly string[],
): readonly Splice[] | undefined {
  const { text } = block;
  const items: Item[] = [];
  for (const item of block.items) {
    const start = block.list ? dashBefore(text, item.start) : item.start;
    if (start === undefined) return undefined;
    const line = lineStart(text, start);
    items.push({ ...item, start, line, prefix: text.slice(line, start).replace(/^\ufeff/, '') });
  }
  const kept = items.filter(({ key }) => !removed.has(key));
  const last = kept.at(-1);
  if (last === undefined) return emptied(block, items, inserted);
  const splices: Splice[] = [];
  for (const [index, item] of items.entries()) {
    if (!removed.has(item.key)) continue;
    const splice = removal(text, item, items[index + 1]);
    if (splice === undefined) return undefined;
    splices.push(splice);
  }
  if (inserted.length === 0) return splices;
  const at = lineEnd(text, last.end);
  const indentation = (items.find(({ prefix }) => /^ *$/.test(prefix)) ?? last).prefix.replace(/[^ ]/g, ' ');
  const newline = breakAt(text, at) || breakAt(text, breakBefore(text, last.line)) || '\n';
  const added = inserted.map((one) => `${newline}${indentation}${block.list ? '- ' : ''}${one}`).join('');
  return [{ start: at, end: at, text: added }, ...splices];
}

function removal(text: string, item: Item, next: Item | undefined): Splice | undefined {
  const end = lineEnd(text, item.end);
  if (!isRestOfLine(text.slice(item.end, end))) return undefined;
  if (/^ *$/.test(item.prefix)) {
    const from = breakBefore(text, item.line);
    // The file's first line has no line break before it that could go with it.
    if (from < item.line) return { start: from, end, text: '' };
    return { start: item.start - item.prefix.length, end: end + breakAt(text, end).length, text: '' };
  }
  // The first entry on the line of a dash: the next one moves up.
  if (!/^ *(?:-[ \t]+)+$/.test(item.prefix) || next === undefined) return undefined;
  return /^\s*$/.test(text.slice(end, next.start)) ? { start: item.start, end: next.start, text: '' } : undefined;
}

/** A container that has lost every entry it had. */
function emptied(
  { text, list }: Block,
  items: readonly Item[],
  inserted: readonly string[],
): readonly Splice[] | undefined {
  const [first] = items;
  const last = items.at(-1);
  if (first === undefined || last === undefined) return undefined;
  if (!/^ *(?:-[ \t]+)*$/.test(first.prefix) || hasComment(text.slice(first.start, last.end))) return undefined;
  const inner = inserted.join(', ');
  // On a line of its own a value has to stand further in than its key.
  const indentation = first.prefix.includes('-') ? '' : '  ';
  return [{ start: first.start, end: last.end, text: `${indentation}${list ? `[${inner}]` : `{${inner}}`}` }];
}

/** The dash before an entry of a list, on the same line. */
function dashBefore(text: string, start: number): number | undefined {
  const line = lineStart(text, start);
  const dash = /-[ \t]+$/.exec(text.slice(line, start));
  return dash === null ? undefined : line + dash.index;
}

function isRestOfLine(text: string): boolean {
  return /^[ \t]*(?:\s#.*)?$/.test(text);
}
