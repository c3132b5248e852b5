/** Cells of a stream list (RFC 4180). A column that is not there is not made. */
import { LEG_FIELDS, readColumns, STREAM_FIELDS, type Columns } from '../read/csv/columns.js';
import { findSeparator, readRecords, type CsvRecord, type Separator } from '../read/csv/records.js';
import { isEmpty } from '../read/csv/cells.js';
import { createProblemList } from '../read/problem-list.js';
import type { Container } from '../source/document.js';
import type { Span, TextDocument } from '../source/text-document.js';
import type { Edit } from '../edits/entry.js';
import {
  oneOrRefuse,
  refuse,
  together,
  type Splice,
  type Spliced,
  type Splicer,
  type ContainerChange,
} from './splice.js';

export function createCsvSplicer(document: TextDocument): Splicer {
  const { text } = document;
  const { separator } = findSeparator(text);
  let table: Table | undefined;
  return (change) => {
    const { container, spans, replaced, removed, inserted } = change;
    if (Array.isArray(container))
      return refuse([...replaced, ...removed, ...inserted], 'this takes whole rows of a list');
    const cell = (edit: Edit, span: Span | undefined): Spliced =>
      oneOrRefuse(edit, span && cellSplice(text, span, separator, edit));
    return together([
      ...[...replaced, ...removed].map((edit) => cell(edit, spans.entries.get(edit.key)?.value)),
      ...inserted.map((edit) => {
        table ??= readTable(document);
        const span = emptyCell(table, change, edit.key);
        return span === undefined
          ? refuse([edit], 'the list has no empty cell in a column for this')
          : cell(edit, span);
      }),
    ]);
  };
}

/** The text of a cell in the quotes it has, or in those it needs. */
function cellSplice(text: string, span: Span, separator: Separator, { value }: Edit): Splice | undefined {
  if (typeof value === 'object') return undefined;
  const now = value === undefined ? '' : String(value);
  let before = span.start;
  while (text[before - 1] === ' ' || (text[before - 1] === '\t' && separator !== '\t')) before--;
  if (text[before - 1] === '"') return { ...span, text: now.replaceAll('"', '""') };
  // A span over several cells stands for a whole row, which says more than this value.
  const old = text.slice(span.start, span.end);
  if (old.includes(separator) || /[\r\n]/.test(old)) return undefined;
  const needsQuotes = /["\r\n]|^#|^\s|\s$/.test(now) || now.includes(separator);
  return { ...span, text: needsQuotes ? `"${now.replaceAll('"', '""')}"` : now };
}

/** What a list says beyond the values of its tree: which cells are empty, and which leg is whose. */
interface Table {
  readonly columns: Columns | undefined;
  /** By where the first cell starts. */
  readonly rows: ReadonlyMap<number, CsvRecord>;
  /** Which leg of its row a leg is. */
  readonly legs: ReadonlyMap<Container, 0 | 1>;
}

function readTable(document: TextDocument): Table {
  const { name, text } = document;
  const { separator, start } = findSeparator(text);
  const rows = new Map<number, CsvRecord>();
  let columns: Columns | undefined;
  for (const record of readRecords(text, start, separator)) {
    if (columns === undefined) columns = readColumns(record, createProblemList(name, text));
    else rows.set(record.cells[0]?.span.start ?? 0, record);
  }
  return { columns, rows, legs: legsOf(document) };
}

function legsOf(document: TextDocument): ReadonlyMap<Container, 0 | 1> {
  const found = new Map<Container, 0 | 1>();
  const { streams = [] } = document.value as { readonly streams?: readonly { readonly legs?: readonly object[] }[] };
  const containers = new Set(streams.flatMap(({ legs = [] }) => legs));
  const spans = document.spans(containers);
  for (const { legs = [] } of streams) {
    let row: number | undefined;
    for (const leg of legs) {
      const at = spans.get(leg)?.self.start;
      found.set(leg, row !== undefined && at === row ? 1 : 0);
      row = at;
    }
  }
  return found;
}

function emptyCell(
  { columns, rows, legs }: Table,
  { container, spans }: ContainerChange,
  key: string | number,
): Span | undefined {
  const leg = legs.get(container);
  const legField = LEG_FIELDS.find((field) => field === key);
  const streamField = STREAM_FIELDS.find((field) => field === key);
  const own = leg === undefined || legField === undefined ? undefined : columns?.legs[leg].get(legField);
  const column = own ?? (leg === undefined && streamField !== undefined ? columns?.stream.get(streamField) : undefined);
  const cell = column && rows.get(spans.self.start)?.cells[column.index];
  return cell !== undefined && isEmpty(cell) ? cell.span : undefined;
}
