import type { Span } from '../../source/text-document.js';
import type { Placed } from '../tree.js';

/** Text of the file and the offset of its first character: unlike a copy, it can say where it came from. */
export interface Piece {
  readonly text: string;
  readonly start: number;
}

export function spanOf(piece: Piece): Span {
  return { start: piece.start, end: piece.start + piece.text.length };
}

/** The piece's own text as a value of the tree. */
export function placed(piece: Piece): Placed<string>;
/** A value read from the piece. */
export function placed<T>(piece: Piece, value: T): Placed<T>;
export function placed(piece: Piece, value: unknown = piece.text): Placed {
  return { value, span: spanOf(piece) };
}

/** From `from` to before `to`, counted inside the piece. */
export function slice(piece: Piece, from: number, to = piece.text.length): Piece {
  return { text: piece.text.slice(from, to), start: piece.start + from };
}

/** Without blanks around it. */
export function trim(piece: Piece): Piece {
  const text = piece.text.trimStart();
  return { text: text.trimEnd(), start: piece.start + piece.text.length - text.length };
}

/** Words between blanks. */
export function wordsOf(piece: Piece): readonly Piece[] {
  return Array.from(piece.text.matchAll(/\S+/g), (match) => ({ text: match[0], start: piece.start + match.index }));
}

/** The parts between separators of one character, blanks around them dropped. */
export function split(piece: Piece, separator: string): readonly Piece[] {
  const parts: Piece[] = [];
  let from = 0;
  for (let to = piece.text.indexOf(separator); to >= 0; to = piece.text.indexOf(separator, from)) {
    parts.push(trim(slice(piece, from, to)));
    from = to + 1;
  }
  parts.push(trim(slice(piece, from)));
  return parts;
}
