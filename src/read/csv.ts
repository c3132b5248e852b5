/**
 * Stream lists as spreadsheets export them (RFC 4180), with the columns of the first row named in the trade's usual
 * words. A row is a stream, with one leg or two; see `csv/rows.ts` for lists with a row per leg.
 *
 * The cells are split here because the CSV library says in which line a record ends, not where a cell stands, and a
 * finding has to point at the cell. The library checks this reader in the tests. Nothing in a cell is ever evaluated.
 */
import { readColumns } from './csv/columns.js';
import { findSeparator, readRecords, type CsvRecord } from './csv/records.js';
import { createStreamRows } from './csv/rows.js';
import { createProblemList, type ProblemList } from './problem-list.js';
import type { TextDocument } from '../source/text-document.js';
import type { ReadResult } from './result.js';
import { createTree } from './tree.js';

/** The streams of a list. Never throws. */
export function readCsv(name: string, text: string): ReadResult<TextDocument> {
  const problems = createProblemList(name, text);
  const tree = createTree();
  const { separator, start } = findSeparator(text);
  const records = readRecords(text, start, separator);
  const header = nextRecord(records, problems);
  if (header === undefined) {
    if (problems.all.length === 0) {
      problems.add({ start: 0, end: 0 }, 'the list has no header row', 'head the columns: `name,group,port`');
    }
    return { document: undefined, problems: problems.all };
  }
  const columns = readColumns(header, problems);
  if (columns === undefined) return { document: undefined, problems: problems.all };
  const rows = createStreamRows(columns, tree, problems);
  for (let record = nextRecord(records, problems); record !== undefined; record = nextRecord(records, problems)) {
    rows.add(record);
    if (problems.full) break;
  }
  if (problems.all.length > 0) return { document: undefined, problems: problems.all };
  const whole = { start: 0, end: text.length };
  const root = tree.mapping(whole, { streams: tree.sequence(whole, rows.streams()) });
  return { document: tree.document({ name, format: 'csv', text, isList: true }, root), problems: [] };
}

function nextRecord(records: Generator<CsvRecord, undefined>, problems: ProblemList): CsvRecord | undefined {
  const { value } = records.next();
  if (value?.fault === undefined) return value;
  const { span, kind } = value.fault;
  if (kind === 'unclosed quote') {
    problems.add(span, 'this double quote is never closed', 'close it, or write it twice if it belongs to the text');
  } else {
    problems.add(
      span,
      'text follows the closing double quote of a cell (RFC 4180 §2)',
      'put the whole cell in double quotes and write quotes inside it twice',
    );
  }
  return undefined;
}
