/** Rows and blocks, as reports write them. */
import type { Block, List, Outline, OutlineLine, Paragraph, Part, Row, Rows } from './page.js';
import type { Phrase } from './phrase.js';

/** A label with texts one below the other; nothing where there are none. */
export function row(label: string, ...texts: readonly Phrase[]): readonly Row[] {
  return toned('label', label, texts);
}

/** A row that stands out. */
export function titled(label: string, ...texts: readonly Phrase[]): readonly Row[] {
  return toned('title', label, texts);
}

/** A row in a tone of its own. */
export function toned(tone: Row['tone'], label: string, texts: readonly Phrase[]): readonly Row[] {
  return texts.length === 0 ? [] : [{ label, tone, texts }];
}

/** A row that belongs to the one before. */
export function inset(label: string, ...texts: readonly Phrase[]): readonly Row[] {
  return row(label, ...texts).map((one) => ({ ...one, inset: true }));
}

/** Rows whose labels get so many characters; nothing where there are none. */
export function rowsPart(labelRoom: number, rows: readonly Row[]): readonly Rows[] {
  return rows.length === 0 ? [] : [{ kind: 'rows', labelRoom, rows }];
}

export function outline(lines: readonly OutlineLine[]): readonly Outline[] {
  return lines.length === 0 ? [] : [{ kind: 'outline', lines }];
}

export function list(items: readonly Phrase[]): readonly List[] {
  return items.length === 0 ? [] : [{ kind: 'list', items }];
}

export function paragraph(text: Phrase): Paragraph {
  return { kind: 'paragraph', text };
}

/** A block under a heading. */
export function headed(heading: string, ...parts: readonly Part[]): Block {
  return { heading, parts };
}

/** A block that goes on under the last heading; none where there are no parts. */
export function block(...parts: readonly Part[]): readonly Block[] {
  return parts.length === 0 ? [] : [{ parts }];
}

/** At most so many texts, the last of which says how many more there are. */
export function capped(texts: readonly Phrase[], most: number, more: (left: number) => Phrase): readonly Phrase[] {
  return texts.length <= most ? texts : [...texts.slice(0, most), more(texts.length - most)];
}
