/** Phrases: what a report says, in pieces whose roles tell any drawing how to treat them. Text in them is raw. */

/**
 * `words` may be broken over lines at spaces. A `name` is a name or number that stays whole. A `copy` is text whose spacing
 * matters, such as a key that will be copied. A `title` is what a line is about, a `label` says what comes after it; both
 * stay whole and are set off.
 */
export type TextRole = 'words' | 'name' | 'copy' | 'title' | 'label';

export interface TextPiece {
  readonly role: TextRole;
  readonly text: string;
}

/** Where something is written. */
export interface PlacePiece {
  readonly role: 'place';
  readonly file: string;
  /** Line and column, `7:3`, or what the file itself calls the place, `Streams!C7`. */
  readonly position: string;
}

export type PhrasePiece = TextPiece | PlacePiece;

/** Pieces that follow on each other with no space between but the one they hold. */
export type Phrase = readonly PhrasePiece[];

/** Sentences: every run of spaces, tabs and line ends counts as one space. */
export function prose(text: string): Phrase {
  return [{ role: 'words', text }];
}

export function name(text: string): Phrase {
  return [{ role: 'name', text }];
}

/** Text as it stands, with its spaces. */
export function copy(text: string): Phrase {
  return [{ role: 'copy', text }];
}

export function title(text: string): Phrase {
  return [{ role: 'title', text }];
}

export function label(text: string): Phrase {
  return [{ role: 'label', text }];
}

export function place(file: string, position: string): Phrase {
  return [{ role: 'place', file, position }];
}

/** Phrases set apart, as a name is from what is said of it. */
export function apart(...phrases: readonly Phrase[]): Phrase {
  return between(phrases, copy('  '));
}

/** What is not said of each other, further apart than that. */
export function sayApart(phrases: readonly Phrase[]): Phrase {
  return between(phrases, copy('   '));
}

/** `say`cam ${name} leads``: the literal parts are words, strings are names, phrases are taken in as they are. */
export function say(words: TemplateStringsArray, ...values: readonly (string | Phrase)[]): Phrase {
  return words.flatMap((literal, index): Phrase => {
    const value = values[index] ?? [];
    return [...(literal === '' ? [] : prose(literal)), ...(typeof value === 'string' ? name(value) : value)];
  });
}

/** `a, b and c`; past `most` names, `a, b and 397 more`. */
export function sayNames(names: readonly string[], most = 6): Phrase {
  const shown = names.slice(0, most).map((one) => name(one));
  const left = names.length - shown.length;
  const ends = left > 0 ? [...shown, say`${String(left)} more`] : shown;
  return ends.length < 2 ? ends.flat() : say`${between(ends.slice(0, -1), prose(', '))} and ${ends.at(-1) ?? []}`;
}

/** Several phrases in a row, a sign after each but the last. */
export function sayAll(phrases: readonly Phrase[], sign: ';' | ',' = ';'): Phrase {
  return between(phrases, prose(`${sign} `));
}

function between(phrases: readonly Phrase[], middle: Phrase): Phrase {
  return phrases.flatMap((phrase, index) => (index === 0 ? phrase : [...middle, ...phrase]));
}

/** The text of a phrase on one line, as anything that takes plain text gets it. */
export function plainText(phrase: Phrase): string {
  return phrase.map(textOf).join('').trim();
}

/** `plan.yaml 7:3` for a place. */
export function textOf(piece: PhrasePiece): string {
  if (piece.role === 'place') return `${piece.file} ${piece.position}`;
  return piece.role === 'words' ? piece.text.replace(/[ \t\r\n]+/g, ' ') : piece.text;
}
