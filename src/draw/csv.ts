/** Tables for a spreadsheet: CSV (RFC 4180). */
import { escapeText } from '../page/escape.js';
import type { Cell, Table } from '../page/page.js';
import { plainText } from '../page/phrase.js';

/** Line end of every row (RFC 4180 §2); no cell holds one. */
const ROW_END = '\r\n';

/** The headings, then a line a row; details and whatever else a table says of its drawing have no place here. */
export function drawCsv({ columns, rows }: Table): string {
  const lines = [columns.map(({ heading = '' }) => csvCell(heading)), ...rows.map(({ cells }) => cells.map(cellText))];
  return lines.map((cells) => `${cells.join(',')}${ROW_END}`).join('');
}

/** Numbers need no care: a spreadsheet takes `-3` for a number, not for a formula. */
function cellText(cell: Cell): string {
  if (cell === null) return '';
  if (typeof cell === 'number') return String(cell);
  return csvCell(typeof cell === 'string' ? cell : plainText(cell));
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
