/** Tables of a text: columns beside each other where the width allows, folded where it does not. */
import { escapeText } from '../page/escape.js';
import type { Cell, Column, Detail, Table, TableRow } from '../page/page.js';
import { apart, copy, label as labelPhrase, name, plainText, say, type Phrase } from '../page/phrase.js';
import { chunksOf, hang, indented, wrap } from './layout.js';
import type { Paint } from './paint.js';
import { measure, padEnd, padStart } from './width.js';

const GAP = '  ';
const TICK = ' [ ] ';

/** A column before the last one, with the texts of its cells. */
interface Head {
  readonly column: Column;
  readonly columns: number;
  readonly texts: readonly string[];
}

export function tableLines(table: Table, width: number, paint: Paint): readonly string[] {
  const heads = table.columns.slice(0, -1).flatMap((column, index) => headOf(column, index, table.rows));
  const isWide = table.room === undefined || indentOf(heads) + table.room <= width;
  const shown = isWide ? heads : heads.filter(({ column }) => column.folds !== true);
  const detailIndent = (heads[0]?.columns ?? 0) + 2 * GAP.length;
  return [
    ...(isWide ? headingLine(table, heads, paint) : []),
    ...table.rows.flatMap((row, index) => [
      ...(isWide ? wideLines : foldedLines)(shown, index, chunksOf(lastOf(row), paint), width, paint),
      ...(row.details ?? []).flatMap((detail) => detailLines(detail, isWide, detailIndent, width, paint)),
    ]),
  ];
}

/** Nothing for a column of names that no row fills. */
function headOf(column: Column, index: number, rows: readonly TableRow[]): readonly Head[] {
  const texts = rows.map(({ cells }) => escapeText(textOfCell(cells[index])));
  const { type, size, least = 0 } = column;
  const widest = texts.reduce((columns, text) => Math.max(columns, measure(text)), measure(headingOf(column)));
  switch (type) {
    case 'number':
      return [{ column, texts, columns: size ?? widest }];
    case 'tick':
      return [{ column, texts: texts.map((text) => padStart(text, widest) + TICK), columns: widest + TICK.length }];
    case 'decimal':
      return [decimalHead(column, texts)];
    case 'name':
    case 'phrase':
      return widest === 0 ? [] : [{ column, texts, columns: Math.max(least, Math.min(size ?? Infinity, widest)) }];
  }
}

/** Points stand below each other. */
function decimalHead(column: Column, numbers: readonly string[]): Head {
  const parts = numbers.map((number) => number.split('.'));
  const wholes = Math.max(0, ...parts.map(([whole = '']) => measure(whole)));
  const decimals = Math.max(0, ...parts.map(([, after = '']) => measure(after)));
  const texts = parts.map(([whole = '', after]) => padStart(whole, wholes) + (after === undefined ? '' : `.${after}`));
  return { column, texts, columns: wholes + 1 + decimals };
}

function textOfCell(cell: Cell = null): string {
  if (cell === null) return '';
  return typeof cell === 'object' ? plainText(cell) : String(cell);
}

function lastOf({ cells }: TableRow): Phrase {
  const last = cells.at(-1) ?? null;
  return typeof last === 'object' && last !== null ? last : name(textOfCell(last));
}

/** Column of what follows. A tick brings its own space. */
function indentOf(heads: readonly Head[]): number {
  return heads.reduce((sum, { column, columns }) => sum + columns + (column.type === 'tick' ? 0 : GAP.length), 0);
}

function joined(heads: readonly Head[], textOf: (head: Head) => string): string {
  return heads
    .map(
      (head, index) =>
        padded(textOf(head), head) + (head.column.type === 'tick' || index === heads.length - 1 ? '' : GAP),
    )
    .join('');
}

function padded(text: string, { column, columns }: Head): string {
  return column.type === 'number' ? padStart(text, columns) : padEnd(text, columns);
}

function headingLine({ columns }: Table, heads: readonly Head[], paint: Paint): readonly string[] {
  if (columns.every(({ heading }) => heading === undefined)) return [];
  const line = joined(heads, ({ column }) => headingOf(column));
  return [paint('label', `${line}${GAP}${headingOf(columns.at(-1))}`)];
}

function headingOf(column: Column | undefined): string {
  return escapeText(column?.heading ?? '');
}

type RowLines = (
  heads: readonly Head[],
  index: number,
  last: ReturnType<typeof chunksOf>,
  width: number,
  paint: Paint,
) => readonly string[];

/** Numbers that are too wide push the rest of their line, names put it on the next one. */
const wideLines: RowLines = (heads, index, last, width, paint) => {
  const indent = indentOf(heads);
  const label = joined(heads, ({ texts }) => texts[index] ?? '');
  const names = heads.findIndex(({ column }) => column.type === 'name');
  if (names < 0 || measure(label) + GAP.length <= indent) return hang(label, last, { width, indent });
  const before = indentOf(heads.slice(0, names));
  const [start, rest] = [label.slice(0, before), label.slice(before)];
  const lines = wrap(chunksOf(copy(rest), paint), width - before);
  return [
    ...lines.map((line, number) => (number === 0 ? start : ' '.repeat(before)) + line),
    ...hang('', last, { width, indent }),
  ];
};

/** Names on a line above the last column, if there are any. */
const foldedLines: RowLines = (heads, index, last, width, paint) => {
  const names = heads.filter(({ column }) => column.type === 'name');
  const others = heads.filter(({ column }) => column.type !== 'name');
  const label = joined(others, ({ texts }) => texts[index] ?? '');
  const indent = indentOf(others);
  if (names.length === 0) return hang(label, last, { width, indent });
  const filled = names.flatMap(({ texts }) => (texts[index] === '' ? [] : [name(texts[index] ?? '')]));
  return [
    ...hang(label, chunksOf(apart(...filled), paint), { width, indent }),
    ...indented(wrap(last, width - indent - GAP.length), indent + GAP.length, indent + GAP.length),
  ];
};

function detailLines(
  { label, text, folded }: Detail,
  isWide: boolean,
  indent: number,
  width: number,
  paint: Paint,
): readonly string[] {
  const said = isWide || folded === undefined ? text : text === undefined ? folded : say`${folded}, ${text}`;
  if (said === undefined) return [];
  const chunks = chunksOf(say`${labelPhrase(label)}: ${said}`, paint);
  // One column less than there is, so that further lines can be set in by one.
  return indented(wrap(chunks, width - 1 - indent), indent, indent + 1);
}
