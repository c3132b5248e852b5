/**
 * The vocabulary of reports: what a report says, as plain data that could be written as JSON, whatever it is drawn with.
 * Terminal, spreadsheet and web page draw the same pages. Names in them are raw: each drawing escapes them its own way.
 */
import type { Phrase } from './phrase.js';

/** A whole report. */
export interface Page {
  readonly blocks: readonly Block[];
}

/** Parts that stand together, set apart from other blocks. One without a heading belongs under the last heading. */
export interface Block {
  readonly heading?: string | undefined;
  readonly parts: readonly Part[];
}

export type Part = Rows | Outline | Table | Paragraph | List;

/** A page of text and lists alone, which a plain document can hold. */
export interface Article {
  readonly blocks: readonly (Omit<Block, 'parts'> & { readonly parts: readonly (Paragraph | List)[] })[];
}

/** Labels with what is said of each. */
export interface Rows {
  readonly kind: 'rows';
  /** How many characters labels get, the space after them too: where texts start if labels stand beside them. */
  readonly labelRoom: number;
  readonly rows: readonly Row[];
}

export interface Row {
  /** Empty where the texts need none. */
  readonly label: string;
  /** How the label is set off; severities go by their own names, a `count` is a number before what it counts. */
  readonly tone: 'label' | 'title' | 'count' | 'error' | 'warning' | 'note';
  /** True for what belongs to the row before. */
  readonly inset?: true;
  /** One below the other. */
  readonly texts: readonly Phrase[];
}

/** Lines that hang on each other, flat: a line belongs to the last one before it that is less deep. */
export interface Outline {
  readonly kind: 'outline';
  readonly lines: readonly OutlineLine[];
}

export interface OutlineLine {
  /** From 0. */
  readonly depth: number;
  readonly text: Phrase;
}

/** What is counted or listed alike. */
export interface Table {
  readonly kind: 'table';
  readonly columns: readonly Column[];
  readonly rows: readonly TableRow[];
  /** True for one that belongs to the text before. */
  readonly inset?: true;
  /**
   * Characters that the last column should get at least. Where there are fewer, columns that fold are left out and told by
   * details, and texts before the last column go on a line above it.
   */
  readonly room?: number;
}

export interface Column {
  readonly heading?: string;
  /**
   * A `tick` is a number with a box to tick, a `decimal` one whose point stands under the others; names stay whole, the
   * last column holds phrases.
   */
  readonly type: 'number' | 'decimal' | 'name' | 'tick' | 'phrase';
  /** Characters that numbers get at least, or names at most. */
  readonly size?: number;
  /** Characters that names get at least, where tables stand below each other. */
  readonly least?: number;
  /** True for a number that is told by details where there is little room. */
  readonly folds?: true;
}

export interface TableRow {
  readonly cells: readonly Cell[];
  readonly details?: readonly Detail[];
}

/** Null is what is not stated. */
export type Cell = string | number | Phrase | null;

/** More about a row of a table. */
export interface Detail {
  readonly label: string;
  /** Undefined where the columns say all, unless they are folded. */
  readonly text?: Phrase | undefined;
  /** What the folded columns would say. */
  readonly folded?: Phrase;
}

/** Text on its own. */
export interface Paragraph {
  readonly kind: 'paragraph';
  readonly text: Phrase;
}

/** Texts of one kind, one below the other. */
export interface List {
  readonly kind: 'list';
  readonly items: readonly Phrase[];
}
