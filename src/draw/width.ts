/** Columns of a terminal. */
import { eastAsianWidth } from 'get-east-asian-width';

const ASCII = /^[\x20-\x7e]*$/;
const MARK = /^[\p{Mn}\p{Me}\u1160-\u11ff\ud7b0-\ud7ff\ufe0e]$/u;

/** Flags, emoji with a skin tone, single emoji, and signs drawn as emoji (Unicode Technical Standard 51 §1.4). */
const EMOJI = /\p{RI}{2}|\p{Emoji_Modifier_Base}\ufe0f?\p{Emoji_Modifier}|\p{Emoji_Presentation}\ufe0f?|\P{M}\ufe0f/gu;

/**
 * Columns a terminal gives to a text that holds no controls: two for wide letters and emoji, none for marks.
 * Expressions rather than Intl.Segmenter, whose time grows with the square of a text's length.
 */
export function measure(text: string): number {
  if (isAscii(text)) return text.length;
  let columns = 0;
  const letters = text.replace(EMOJI, () => {
    columns += 2;
    return '';
  });
  for (const letter of letters) columns += columnsOf(letter);
  return columns;
}

/** Columns of one letter, a code point. */
export function columnsOf(letter: string): 0 | 1 | 2 {
  return MARK.test(letter) ? 0 : eastAsianWidth(letter.codePointAt(0) ?? 0);
}

export function isAscii(text: string): boolean {
  return ASCII.test(text);
}

/** The text with spaces behind it, so that it takes so many columns. */
export function padEnd(text: string, columns: number): string {
  return text + ' '.repeat(Math.max(0, columns - measure(text)));
}

/** The text with spaces before it. */
export function padStart(text: string, columns: number): string {
  return ' '.repeat(Math.max(0, columns - measure(text))) + text;
}
