/** The failures for a spreadsheet: one row an element (RFC 4180). */
import { csvCell } from './escape.js';
import { rowsOf, type FailuresResult, type RankedRow } from './failures-result.js';
import { streamNames } from './failures-words.js';
import { linkLabel } from '../model/vlans/trunks.js';
import { listNames } from '../words/lists.js';

/** Names in one cell; a spreadsheet cell ends at 32767 characters. */
const MOST_NAMES = 50;

const HEADER = [
  'rank',
  'kind',
  'element',
  'streams lost',
  'streams lost in part',
  'streams on one leg',
  'VLANs without querier',
  'links overloaded',
  'names lost',
  'names lost in part',
  'names without querier',
  'names overloaded',
];

/** Names are capped, numbers are not; inputs that could not be read have no place here. */
export function reportFailuresCsv(result: FailuresResult): string {
  const lines = [HEADER.map(csvCell), ...rowsOf(result).map(cells)];
  return lines.map((line) => `${line.join(',')}\r\n`).join('');
}

function cells({ rank, row }: RankedRow): readonly string[] {
  const { element, lostEverywhere, lostInPart, fewerLegs, queriersLost, overloads } = row;
  const numbers = [lostEverywhere, lostInPart, fewerLegs, queriersLost, overloads].map((list) => String(list.length));
  const names = [
    streamNames(lostEverywhere),
    streamNames(lostInPart),
    queriersLost.map(({ vlan }) => vlan.name),
    overloads.flatMap(({ links }) => links.map(linkLabel)),
  ];
  return [
    String(rank),
    csvCell(element.kind),
    csvCell(element.name),
    ...numbers,
    ...names.map((list) => csvCell(listNames(list, MOST_NAMES))),
  ];
}
