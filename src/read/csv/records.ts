import type { Span } from '../../source/text-document.js';

/** One cell: its text with doubled quotes undone and blanks around it dropped, and where that text stands. */
export interface Cell {
  readonly text: string;
  readonly span: Span;
}

/** One row of a list; `fault` is where its quoting breaks, after which nothing can be trusted. */
export interface CsvRecord {
  readonly cells: readonly Cell[];
  readonly fault: { readonly span: Span; readonly kind: 'unclosed quote' | 'text after quote' } | undefined;
}

export type Separator = ',' | ';' | '\t';

const QUOTE = '"';

/**
 * Records of RFC 4180 §2 from `start` on, line ends of any kind. Blank lines and `#` comments are passed over; a quote
 * inside an unquoted cell is an ordinary character, as in `5" monitor`. Ends at the first fault.
 */
export function* readRecords(text: string, start: number, separator: Separator): Generator<CsvRecord, undefined> {
  let offset = start;
  while (offset < text.length) {
    if (isComment(text, offset)) {
      offset = afterLine(text, offset);
      continue;
    }
    const cells: Cell[] = [];
    for (;;) {
      const cell = readCell(text, offset, separator);
      if ('fault' in cell) {
        yield { cells, fault: cell.fault };
        return undefined;
      }
      cells.push(cell);
      offset = cell.next;
      if (text[offset] !== separator) break;
      offset++;
    }
    offset = afterBreak(text, offset);
    if (cells.some((cell) => cell.text !== '')) yield { cells, fault: undefined };
  }
  return undefined;
}

/**
 * The separator of the first line that is neither blank nor a comment: the one it has most of, a comma when in doubt.
 * `sep=;` on the first line, which spreadsheets write and read, settles it. `start` is where the list begins.
 */
export function findSeparator(text: string): { readonly separator: Separator; readonly start: number } {
  const begin = text.startsWith('\ufeff') ? 1 : 0;
  const hint = /^sep=([,;\t])[^\S\r\n]*(?:\r\n?|\n|$)/i.exec(text.slice(begin, begin + 80));
  if (hint?.[1] !== undefined) return { separator: hint[1] as Separator, start: begin + hint[0].length };
  let offset = begin;
  while (offset < text.length && (isComment(text, offset) || isBlankLine(text, offset))) {
    offset = afterLine(text, offset);
  }
  return { separator: mostFrequent(text, offset), start: begin };
}

type ReadCell = (Cell & { readonly next: number }) | { readonly fault: NonNullable<CsvRecord['fault']> };

function readCell(text: string, offset: number, separator: Separator): ReadCell {
  const open = skipBlanks(text, offset, separator);
  return text[open] === QUOTE ? readQuoted(text, open, separator) : readPlain(text, offset, separator);
}

function readPlain(text: string, offset: number, separator: Separator): ReadCell {
  let next = offset;
  while (next < text.length && text[next] !== separator && !isBreak(text[next])) next++;
  const { text: content, span } = trimmed(text, offset, next);
  return { text: content, span, next };
}

function readQuoted(text: string, open: number, separator: Separator): ReadCell {
  let close = text.indexOf(QUOTE, open + 1);
  let doubled = false;
  while (close >= 0 && text[close + 1] === QUOTE) {
    doubled = true;
    close = text.indexOf(QUOTE, close + 2);
  }
  if (close < 0) return { fault: { span: { start: open, end: open + 1 }, kind: 'unclosed quote' } };
  const next = skipBlanks(text, close + 1, separator);
  if (next < text.length && text[next] !== separator && !isBreak(text[next])) {
    return { fault: { span: { start: next, end: next + 1 }, kind: 'text after quote' } };
  }
  const cell = trimmed(text, open + 1, close);
  return { text: doubled ? cell.text.replaceAll('""', QUOTE) : cell.text, span: cell.span, next };
}

function trimmed(text: string, from: number, to: number): Cell {
  const raw = text.slice(from, to);
  const front = raw.trimStart();
  const start = from + raw.length - front.length;
  const content = front.trimEnd();
  return { text: content, span: { start, end: start + content.length } };
}

/** A comment, not a column headed `#` nor a spreadsheet error such as `#REF!` that a row happens to begin with. */
function isComment(text: string, offset: number): boolean {
  if (text[offset] !== '#') return false;
  const next = text[offset + 1];
  if (next === ',' || next === ';' || next === '\t') return false;
  return !SPREADSHEET_ERROR.test(text.slice(offset, offset + 12));
}

/** Error values a spreadsheet writes for a formula that failed. */
export const SPREADSHEET_ERROR = /^#(REF!|N\/A|VALUE!|NAME\?|DIV\/0!|NUM!|NULL!|SPILL!|CALC!)/;

function isBlankLine(text: string, offset: number): boolean {
  let next = offset;
  while (next < text.length && !isBreak(text[next])) {
    if (!' \t,;'.includes(text[next] ?? '')) return false;
    next++;
  }
  return true;
}

function mostFrequent(text: string, from: number): Separator {
  const counts: Record<Separator, number> = { ',': 0, ';': 0, '\t': 0 };
  let quoted = false;
  for (let offset = from; offset < text.length; offset++) {
    const character = text[offset];
    if (character === QUOTE) quoted = !quoted;
    else if (!quoted && isBreak(character)) break;
    else if (!quoted && (character === ',' || character === ';' || character === '\t')) counts[character]++;
  }
  if (counts[';'] > counts[','] && counts[';'] >= counts['\t']) return ';';
  return counts['\t'] > counts[','] ? '\t' : ',';
}

function skipBlanks(text: string, offset: number, separator: Separator): number {
  let next = offset;
  while (text[next] === ' ' || (text[next] === '\t' && separator !== '\t')) next++;
  return next;
}

function afterLine(text: string, offset: number): number {
  let next = offset;
  while (next < text.length && !isBreak(text[next])) next++;
  return afterBreak(text, next);
}

function afterBreak(text: string, offset: number): number {
  if (text[offset] === '\r') return text[offset + 1] === '\n' ? offset + 2 : offset + 1;
  return text[offset] === '\n' ? offset + 1 : offset;
}

function isBreak(character: string | undefined): boolean {
  return character === '\n' || character === '\r';
}
