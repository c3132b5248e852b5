/** What changes in a text, line by line, as a unified diff shows it (POSIX.1-2017, diff, "Diff -u Output Format"). */
import type { Hunk, HunkLine } from '../../page/difference.js';
import type { Splice } from '../../splice/splice.js';

const CONTEXT = 3;

/** Lines of the old text, and the lines that stand there from now on. */
interface Change {
  /** First line, from 0. */
  readonly from: number;
  /** Line after the last. */
  readonly to: number;
  readonly added: readonly Line[];
}

/** Splices of lines. */
interface Touched {
  /** First line, from 0. */
  readonly from: number;
  /** Line after the last. */
  to: number;
  splices: Splice[];
}

/** Hunks of a text with splices in the order of their places, none of which overlap. */
export function hunksOf(text: string, splices: readonly Splice[]): readonly Hunk[] {
  const old = linesOf(text);
  const changes = touchedBy(old, splices).map((one) => changeOf(text, old, one));
  const hunks: Hunk[] = [];
  let shift = 0;
  for (let index = 0; index < changes.length;) {
    const group: Change[] = [];
    for (let one = changes[index]; one !== undefined; one = changes[++index]) {
      const last = group.at(-1);
      if (last !== undefined && one.from - last.to > 2 * CONTEXT) break;
      group.push(one);
    }
    const first = group[0];
    const last = group.at(-1);
    if (first === undefined || last === undefined) break;
    const start = Math.max(0, first.from - CONTEXT);
    const end = Math.min(old.length, last.to + CONTEXT);
    const lines: HunkLine[] = [];
    let at = start;
    let grown = 0;
    for (const change of group) {
      lines.push(...marked(' ', old.slice(at, change.from)));
      const removed = old.slice(change.from, change.to);
      lines.push(...marked('-', removed), ...marked('+', change.added));
      grown += change.added.length - removed.length;
      at = change.to;
    }
    lines.push(...marked(' ', old.slice(at, end)));
    const shows = (mark: '-' | '+'): boolean => lines.some((line) => line.mark === ' ' || line.mark === mark);
    hunks.push({
      oldStart: shows('-') ? start + 1 : start,
      newStart: (shows('+') ? start + 1 : start) + shift,
      lines,
    });
    shift += grown;
  }
  return hunks;
}

interface Line {
  readonly start: number;
  /** With its line end. */
  readonly end: number;
  readonly text: string;
}

function linesOf(text: string): readonly Line[] {
  const lines: Line[] = [];
  for (const match of text.matchAll(/[^\r\n]*(?:\r\n|\n|\r|$)/g)) {
    if (match[0] === '') continue;
    lines.push({ start: match.index, end: match.index + match[0].length, text: match[0] });
  }
  return lines;
}

/** Splices by the whole lines they touch. */
function touchedBy(lines: readonly Line[], splices: readonly Splice[]): readonly Touched[] {
  const changes: Touched[] = [];
  let line = 0;
  for (const splice of splices) {
    while (line < lines.length - 1 && (lines[line]?.end ?? 0) <= splice.start) line++;
    let to = line + 1;
    while (to < lines.length && (lines[to]?.start ?? 0) < splice.end) to++;
    const last = changes.at(-1);
    if (last !== undefined && line < last.to) {
      last.to = Math.max(last.to, to);
      last.splices.push(splice);
    } else changes.push({ from: line, to, splices: [splice] });
  }
  return changes;
}

/** Without lines that are the same before and after: a line that is taken out takes the end of the line before along. */
function changeOf(text: string, lines: readonly Line[], { from, to, splices }: Touched): Change {
  const removed = lines.slice(from, to);
  const added = linesOf(newText(text, removed, splices));
  let head = 0;
  while (head < removed.length && head < added.length && removed[head]?.text === added[head]?.text) head++;
  let tail = 0;
  const most = Math.min(removed.length, added.length) - head;
  while (tail < most && removed.at(-1 - tail)?.text === added.at(-1 - tail)?.text) tail++;
  return { from: from + head, to: to - tail, added: added.slice(head, added.length - tail) };
}

function newText(text: string, lines: readonly Line[], splices: readonly Splice[]): string {
  let at = lines[0]?.start ?? 0;
  let now = '';
  for (const splice of splices) {
    now += text.slice(at, splice.start) + splice.text;
    at = splice.end;
  }
  return now + text.slice(at, lines.at(-1)?.end ?? at);
}

function marked(mark: HunkLine['mark'], lines: readonly Line[]): readonly HunkLine[] {
  return lines.map(({ text }) => {
    const plain = text.replace(/(?:\r\n|\n|\r)$/, '');
    return plain === text ? { mark, text: plain, open: true } : { mark, text: plain };
  });
}
