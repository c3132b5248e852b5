/** Lines for a terminal of any width: words are wrapped by the columns they take, never cut. */
import { escapeText } from '../page/escape.js';
import { textOf, type Phrase, type PhrasePiece } from '../page/phrase.js';
import type { Paint } from './paint.js';
import { columnsOf, isAscii, measure } from './width.js';

/** Something that is never broken over two lines, and the spaces before it where it does not start a line. */
export interface Chunk {
  /** Without colour, to be measured. */
  readonly plain: string;
  readonly drawn: string;
  readonly gap: number;
}

/** Escapes and paints a phrase, broken wherever a line may end. */
export function chunksOf(phrase: Phrase, paint: Paint): readonly Chunk[] {
  const chunks: Chunk[] = [];
  let gap = 0;
  const put = (plain: string, drawn = plain): void => {
    const last = chunks.at(-1);
    if (last === undefined || gap > 0) chunks.push({ plain, drawn, gap: last === undefined ? 0 : gap });
    else chunks[chunks.length - 1] = { plain: last.plain + plain, drawn: last.drawn + drawn, gap: last.gap };
    gap = 0;
  };
  for (const piece of phrase) {
    const text = escapeText(textOf(piece));
    if (text === '') continue;
    if (piece.role !== 'words' && piece.role !== 'copy') {
      put(text, painted(piece, text, paint));
      continue;
    }
    text.split(' ').forEach((word, index) => {
      if (index > 0) gap++;
      if (word === '') return;
      const [first = '', ...rest] = breakable(word);
      put(first);
      for (const part of rest) chunks.push({ plain: part, drawn: part, gap: 0 });
    });
  }
  return chunks;
}

function painted({ role }: PhrasePiece, text: string, paint: Paint): string {
  return role === 'title' || role === 'label' ? paint(role, text) : text;
}

/** Lines of at most `width` columns, the first of at most `first`, but for chunks that are wider by themselves. */
export function wrap(chunks: readonly Chunk[], width: number, first = width): readonly string[] {
  const lines: string[] = [];
  let line = '';
  let used = 0;
  for (const { plain, drawn, gap } of chunks) {
    const columns = measure(plain);
    if (line === '') {
      line = drawn;
      used = columns;
    } else if (used + gap + columns <= (lines.length === 0 ? first : width)) {
      line += ' '.repeat(gap) + drawn;
      used += gap + columns;
    } else {
      lines.push(line);
      line = drawn;
      used = columns;
    }
  }
  lines.push(line);
  return lines;
}

/** How a text stands beside its label. */
export interface Frame {
  readonly width: number;
  /** Column of the text, on every line. */
  readonly indent: number;
  readonly paintLabel?: (label: string) => string;
}

/** The text beside its label; further lines start in the same column. */
export function hang(label: string, chunks: readonly Chunk[], frame: Frame): readonly string[] {
  const { width, indent, paintLabel = (text: string): string => text } = frame;
  return wrap(chunks, width - indent).map((line, index) => {
    if (line === '') return paintLabel(label.trimEnd());
    return index === 0 && label !== ''
      ? paintLabel(label) + ' '.repeat(Math.max(1, indent - measure(label))) + line
      : ' '.repeat(indent) + line;
  });
}

/** Lines each set in, the first by less or more than the others. */
export function indented(lines: readonly string[], first: number, others: number): readonly string[] {
  return lines.map((line, index) => ' '.repeat(index === 0 ? first : others) + line);
}

/** Scripts without spaces may be broken between two wide letters, unless the word looks like an address or a path. */
function breakable(word: string): readonly string[] {
  if (isAscii(word) || /[./\\:]/.test(word)) return [word];
  const parts: string[] = [];
  let part = '';
  let before = 0;
  for (const letter of word) {
    const columns = columnsOf(letter);
    if (columns === 2 && before === 2) {
      parts.push(part);
      part = '';
    }
    part += letter;
    if (columns > 0) before = columns;
  }
  return [...parts, part];
}
