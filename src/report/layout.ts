/** Lines for a terminal of any width: words are wrapped by the columns they take, never cut. */
import { escapeText } from './escape.js';

/** Something that is never broken over two lines, and the spaces before it where it does not start a line. */
export interface Piece {
  readonly text: string;
  readonly gap: number;
}

/** Sentences: every run of spaces, tabs and line ends is one space. */
export function prose(text: string): readonly Piece[] {
  return verbatim(text.replace(/[ \t\r\n]+/g, ' '));
}

/** Words whose spacing matters, such as a key that will be copied. */
export function verbatim(text: string): readonly Piece[] {
  const pieces: Piece[] = [];
  let gap = 0;
  for (const word of escapeText(text).split(' ')) {
    if (word !== '') {
      const [first = '', ...rest] = breakable(word);
      pieces.push({ text: first, gap: pieces.length === 0 ? 0 : gap });
      for (const part of rest) pieces.push({ text: part, gap: 0 });
      gap = 0;
    }
    gap++;
  }
  return pieces;
}

/** A name, place or number that stays on one line even where it holds spaces. */
export function solid(text: string): readonly Piece[] {
  return [{ text: escapeText(text), gap: 0 }];
}

/** The same pieces, `gap` spaces after what stands before them. */
export function after(pieces: readonly Piece[], gap = 1): readonly Piece[] {
  return pieces.map((piece, index) => (index === 0 ? { ...piece, gap } : piece));
}

/** Lines of at most `width` columns, but for pieces that are wider by themselves. */
export function wrap(pieces: readonly Piece[], width: number): readonly string[] {
  const lines: string[] = [];
  let line = '';
  let used = 0;
  for (const { text, gap } of pieces) {
    const columns = measure(text);
    if (line === '') {
      line = text;
      used = columns;
    } else if (used + gap + columns <= width) {
      line += ' '.repeat(gap) + text;
      used += gap + columns;
    } else {
      lines.push(line);
      line = text;
      used = columns;
    }
  }
  lines.push(line);
  return lines;
}

/** The text beside its label; further lines start in the same column, `indent`. */
export function hang(
  label: string,
  pieces: readonly Piece[],
  frame: { readonly width: number; readonly indent: number; readonly paint: (label: string) => string },
): readonly string[] {
  const { width, indent, paint } = frame;
  return wrap(pieces, width - indent).map((line, index) => {
    if (line === '') return paint(label);
    return index === 0 && label !== ''
      ? paint(label) + ' '.repeat(Math.max(1, indent - measure(label))) + line
      : ' '.repeat(indent) + line;
  });
}

const ASCII = /^[\x20-\x7e]*$/;
const MARK = /^[\p{Mn}\p{Me}\u1160-\u11ff\ud7b0-\ud7ff\ufe0e]$/u;

/** Flags, emoji with a skin tone, single emoji, and signs drawn as emoji (Unicode Technical Standard 51 §1.4). */
const EMOJI = /\p{RI}{2}|\p{Emoji_Modifier_Base}\ufe0f?\p{Emoji_Modifier}|\p{Emoji_Presentation}\ufe0f?|\P{M}\ufe0f/gu;

/** Blocks of East Asian Width W and F (Unicode Standard Annex 11) without the emoji. */
const WIDE = new RegExp(
  '^[\\u1100-\\u115f\\u2329\\u232a\\u2630-\\u2637\\u268a-\\u268f\\u2e80-\\u303e\\u3041-\\u3247\\u3250-\\ua4cf' +
    '\\ua960-\\ua97f\\uac00-\\ud7a3\\uf900-\\ufaff\\ufe10-\\ufe19\\ufe30-\\ufe6f\\uff01-\\uff60\\uffe0-\\uffe6' +
    '\\u{16fe0}-\\u{18dff}\\u{1aff0}-\\u{1b2ff}\\u{1d300}-\\u{1d376}\\u{1f200}-\\u{1f265}\\u{20000}-\\u{3fffd}]$',
  'u',
);

/**
 * Columns a terminal gives to a text that holds no controls: two for wide letters and emoji, none for marks.
 * Expressions rather than Intl.Segmenter, whose time grows with the square of a text's length.
 */
export function measure(text: string): number {
  if (ASCII.test(text)) return text.length;
  let columns = 0;
  const letters = text.replace(EMOJI, () => {
    columns += 2;
    return '';
  });
  for (const letter of letters) columns += columnsOf(letter);
  return columns;
}

function columnsOf(letter: string): 0 | 1 | 2 {
  if (MARK.test(letter)) return 0;
  return WIDE.test(letter) ? 2 : 1;
}

/** Scripts without spaces may be broken between two wide letters, unless the word looks like an address or a path. */
function breakable(word: string): readonly string[] {
  if (ASCII.test(word) || /[./\\:]/.test(word)) return [word];
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
