/** What a page says, taken apart for tests: data instead of drawn lines. */
import type { Page, Part, Row, Table } from '../../src/page/page.js';
import { plainText } from '../../src/page/phrase.js';

export function headingsOf({ blocks }: Page): readonly string[] {
  return blocks.flatMap(({ heading }) => heading ?? []);
}

/** All texts beside this label, of every row that has it. */
export function textsOf(page: Page, label: string): readonly string[] {
  return rowsOf(page).flatMap((row) => (row.label === label ? row.texts.map(plainText) : []));
}

/** All rows as `label: text`, further texts after `;`. */
export function rowLines(page: Page): readonly string[] {
  return rowsOf(page).map(({ label, texts }) => `${label}: ${texts.map(plainText).join('; ')}`);
}

/** Rows of every table, each cell as text; nothing for what is not stated. */
export function cellsOf(page: Page): readonly (readonly string[])[] {
  return partsOf(page)
    .filter((part): part is Table => part.kind === 'table')
    .flatMap(({ rows }) => rows)
    .map(({ cells }) =>
      cells.map((cell) => (typeof cell === 'object' && cell !== null ? plainText(cell) : String(cell ?? ''))),
    );
}

function rowsOf(page: Page): readonly Row[] {
  return partsOf(page).flatMap((part) => (part.kind === 'rows' ? part.rows : []));
}

function partsOf({ blocks }: Page): readonly Part[] {
  return blocks.flatMap(({ parts }) => parts);
}
