/** Sentences with names from a plan in them: names are never broken over two lines. */
import { escapeText } from './escape.js';
import type { Piece } from './layout.js';

/** The literal parts wrap word by word; names stay whole, with the punctuation that touches them. */
export function say(words: TemplateStringsArray, ...names: readonly (string | readonly Piece[])[]): readonly Piece[] {
  const pieces: Piece[] = [];
  let spaced = false;
  const put = (text: string): void => {
    const last = pieces.at(-1);
    if (text === '') return;
    if (spaced || last === undefined) pieces.push({ text, gap: last === undefined ? 0 : 1 });
    else pieces[pieces.length - 1] = { ...last, text: last.text + text };
    spaced = false;
  };
  words.forEach((literal, index) => {
    literal.split(' ').forEach((word, number) => {
      if (number > 0) spaced = true;
      put(word);
    });
    const name = names[index];
    if (typeof name === 'string') put(escapeText(name));
    else {
      const [first, ...rest] = name ?? [];
      if (first !== undefined && first.gap > 0) spaced = true;
      put(first?.text ?? '');
      pieces.push(...rest);
    }
  });
  return pieces;
}

/** `a, b and c`; past `most` names, `a, b and 397 more`. */
export function sayNames(names: readonly string[], most = 6): readonly Piece[] {
  const shown = names.length > most ? names.slice(0, most) : names;
  const ends =
    names.length > most
      ? [...shown.map((name) => say`${name}`), say`${String(names.length - most)} more`]
      : shown.map((name) => say`${name}`);
  return joined(ends, ends.length - 1);
}

/** Several phrases in a row, each after `between`: `; `. */
export function sayAll(phrases: readonly (readonly Piece[])[], between = ';'): readonly Piece[] {
  return phrases.reduce<readonly Piece[]>(
    (before, phrase) => (before.length === 0 ? phrase : say`${before}${between} ${phrase}`),
    [],
  );
}

function joined(phrases: readonly (readonly Piece[])[], last: number): readonly Piece[] {
  return phrases.reduce<readonly Piece[]>((before, phrase, index) => {
    if (index === 0) return phrase;
    return index === last ? say`${before} and ${phrase}` : say`${before}, ${phrase}`;
  }, []);
}
