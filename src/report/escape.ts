/**
 * Text from a plan is hostile: it may carry terminal commands, change the direction of writing or hide itself.
 *
 * Unsafe are controls (C0, DEL, C1), formatting characters (bidirectional controls and the zero-width ones among them),
 * line and paragraph separators, unpaired surrogates and other characters drawn as nothing. The variation selectors of
 * text and emoji are kept: they only choose between two drawings of one character.
 */
const UNSAFE = /(?![\ufe0e\ufe0f])[\p{Cc}\p{Cf}\p{Zl}\p{Zp}\p{Cs}\p{Default_Ignorable_Code_Point}]/gu;

/** Shows every unsafe character as its number: `\u{1b}`. The text returned takes one line and holds no command. */
export function escapeText(text: string): string {
  return text.replace(UNSAFE, (character) => `\\u{${(character.codePointAt(0) ?? 0).toString(16)}}`);
}

/** Indented JSON whose strings hold no unsafe character either; it reads back to the same value. */
export function safeJson(value: unknown): string {
  return JSON.stringify(value, null, 2).replace(UNSAFE, (character) => {
    return character === '\n' ? character : toUtf16(character);
  });
}

function toUtf16(character: string): string {
  return Array.from({ length: character.length }, (_, index) => {
    return `\\u${character.charCodeAt(index).toString(16).padStart(4, '0')}`;
  }).join('');
}

/** What spreadsheets take for the start of a formula, also after spaces and in full width. */
const FORMULA = /^\s*[=+\-@\uff1d\uff0b\uff0d\uff20]/;

/**
 * One cell of a CSV file (RFC 4180 §2): always quoted, without unsafe characters, and with an apostrophe before whatever
 * a spreadsheet would run as a formula (common practice, no standard).
 */
export function csvCell(text: string): string {
  const shown = escapeText(text);
  return `"${(FORMULA.test(shown) ? `'${shown}` : shown).replaceAll('"', '""')}"`;
}
