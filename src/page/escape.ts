/**
 * Text from a plan is hostile: it may carry terminal commands, change the direction of writing or hide itself.
 *
 * Unsafe are controls (C0, DEL, C1), formatting characters (bidirectional controls and the zero-width ones among them),
 * line and paragraph separators, unpaired surrogates and other characters drawn as nothing. The variation selectors of
 * text and emoji are kept: they only choose between two drawings of one character.
 */
export const UNSAFE = /(?![\ufe0e\ufe0f])[\p{Cc}\p{Cf}\p{Zl}\p{Zp}\p{Cs}\p{Default_Ignorable_Code_Point}]/gu;

/** Shows every unsafe character as its number: `\u{1b}`. The text returned takes one line and holds no command. */
export function escapeText(text: string): string {
  return text.replace(UNSAFE, (character) => `\\u{${(character.codePointAt(0) ?? 0).toString(16)}}`);
}
