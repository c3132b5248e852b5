/** The failures for a spreadsheet: one row an element. */
import { linkLabel } from '../../model/vlans/index.js';
import type { Column, Table, TableRow } from '../../page/page.js';
import { listNames } from '../../words/lists.js';
import { rowsOf, type RankedRow } from './rows.js';
import { type FailuresResult } from '../../answers/failures.js';
import { streamNames } from './words.js';

/** Names in one cell; a spreadsheet cell ends at 32767 characters. */
const MOST_NAMES = 50;

const COLUMNS: readonly Column[] = [
  { heading: 'rank', type: 'number' },
  { heading: 'kind', type: 'name' },
  { heading: 'element', type: 'name' },
  { heading: 'streams lost', type: 'number' },
  { heading: 'streams lost in part', type: 'number' },
  { heading: 'streams on one leg', type: 'number' },
  { heading: 'streams lost later', type: 'number' },
  { heading: 'seconds until then', type: 'number' },
  { heading: 'VLANs without querier', type: 'number' },
  { heading: 'links overloaded', type: 'number' },
  { heading: 'names lost', type: 'name' },
  { heading: 'names lost in part', type: 'name' },
  { heading: 'names lost later', type: 'name' },
  { heading: 'names without querier', type: 'name' },
  { heading: 'names overloaded', type: 'name' },
];

/** Names are capped, numbers are not; inputs that could not be read have no place here. */
export function failuresTable(result: FailuresResult): Table {
  return { kind: 'table', columns: COLUMNS, rows: rowsOf(result).map(tableRow) };
}

function tableRow({ rank, row }: RankedRow): TableRow {
  const { element, lostEverywhere, lostInPart, fewerLegs, lostLater, laterS, queriersLost, overloads } = row;
  const names = [
    streamNames(lostEverywhere),
    streamNames(lostInPart),
    streamNames(lostLater),
    queriersLost.map(({ vlan }) => vlan.name),
    overloads.flatMap(({ links }) => links.map(linkLabel)),
  ];
  return {
    cells: [
      rank,
      element.kind,
      element.name,
      ...[lostEverywhere, lostInPart, fewerLegs, lostLater].map((list) => list.length),
      laterS,
      queriersLost.length,
      overloads.length,
      ...names.map((list) => listNames(list, MOST_NAMES)),
    ],
  };
}
