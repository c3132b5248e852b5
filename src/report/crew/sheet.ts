/** Sheets for the crew: columns over rows, sorted by name. */
import { byLabel } from '../../collections/order.js';
import type { Cell, Column, Table } from '../../page/page.js';

/** A number stays one in a spreadsheet; undefined is what the plan does not state. */
export type SheetCell = string | number | undefined;

export interface SheetColumn<Row> {
  readonly heading: string;
  readonly cell: (row: Row) => SheetCell;
  /** Left out where no row fills it. */
  readonly ifFilled?: boolean;
}

/** What a row is sorted by: numbers before texts, numbers within texts as numbers, nothing last. */
export type SheetKey<Row> = (row: Row) => SheetCell;

/** One sheet; undefined when it has no rows. */
export function sheetTable<Row>(
  rows: readonly Row[],
  columns: readonly SheetColumn<Row>[],
  keys: readonly SheetKey<Row>[],
): Table | undefined {
  if (rows.length === 0) return undefined;
  const shown = columns.filter(({ cell, ifFilled }) => ifFilled !== true || rows.some((row) => filled(cell(row))));
  return {
    kind: 'table',
    columns: shown.map((column) => columnOf(column, rows)),
    rows: sortRows(rows, keys).map((row) => ({ cells: shown.map(({ cell }) => stated(cell(row))) })),
  };
}

function columnOf<Row>({ heading, cell }: SheetColumn<Row>, rows: readonly Row[]): Column {
  const isText = rows.some((row) => typeof cell(row) === 'string');
  return { heading, type: isText ? 'name' : 'number' };
}

function filled(cell: SheetCell): boolean {
  return cell !== undefined && cell !== '';
}

function stated(cell: SheetCell): Cell {
  return cell === undefined || cell === '' ? null : cell;
}

/** Texts are ranked once, so that a long sheet is sorted by numbers alone. */
function sortRows<Row>(rows: readonly Row[], keys: readonly SheetKey<Row>[]): readonly Row[] {
  const values = keys.map((key) => rows.map(key));
  const ranks = values.map(rankCells);
  const order = rows.map((_, index) => index);
  order.sort((a, b) => {
    for (const rank of ranks) {
      const difference = (rank[a] ?? 0) - (rank[b] ?? 0);
      if (difference !== 0) return difference;
    }
    return a - b;
  });
  return order.flatMap((index) => rows[index] ?? []);
}

function rankCells(cells: readonly SheetCell[]): readonly number[] {
  const unique = [...new Set(cells.filter(filled))];
  const numbers = unique.filter((cell) => typeof cell === 'number').sort((a, b) => a - b);
  const texts = byLabel(
    unique.filter((cell) => typeof cell === 'string'),
    (text) => text,
  );
  const ranks = new Map<SheetCell, number>([...numbers, ...texts].map((cell, index) => [cell, index]));
  return cells.map((cell) => ranks.get(cell) ?? ranks.size);
}
