/** The failures for a spreadsheet: one row an element. */
import { linkLabel } from '../../model/vlans/index.js';
import type { Column, Table, TableRow } from '../../page/page.js';
import { counted } from '../../words/counts.js';
import { listNames } from '../../words/lists.js';
import { blindWords } from '../blind.js';
import { rowsOf, type RankedRow } from './rows.js';
import { type FailuresResult } from '../../answers/failures.js';
import { streamNames, unjudgedStreams, unjudgedWhat } from './words.js';

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
  { heading: 'of them at least', type: 'number' },
  { heading: 'names lost', type: 'name' },
  { heading: 'names lost in part', type: 'name' },
  { heading: 'names lost later', type: 'name' },
  { heading: 'names without querier', type: 'name' },
  { heading: 'names overloaded', type: 'name' },
];

/** Names are capped, numbers are not; inputs that could not be read have no place here. */
export function failuresTable(result: FailuresResult): Table {
  return { kind: 'table', columns: COLUMNS, rows: [...rowsOf(result).map(tableRow), ...openRows(result)] };
}

/** What was not judged or counted, after the failures and without a rank. */
function openRows({ table, blind }: FailuresResult): readonly TableRow[] {
  const { streams, links } = table?.uncounted ?? { streams: 0, links: [] };
  return [
    ...blindWords(blind).map(({ what }) => openRow('not judged', what, {})),
    ...(table?.unjudged ?? []).map((one) => {
      const { whole, inPart } = unjudgedStreams(one);
      const receivers = whole.length + inPart.length > 0 ? [] : one.receivers.map(({ label }) => label);
      const who = receivers.length === 0 ? '' : `: ${listNames(receivers, MOST_NAMES)}`;
      const names = { 'names lost': whole, 'names lost in part': inPart };
      return openRow('not judged', `${unjudgedWhat(one.why)}${who}`, names);
    }),
    ...(streams === 0
      ? []
      : [
          openRow(
            'not counted',
            `${counted(streams, 'stream leg')} without a known rate: more links may be overloaded`,
            {},
          ),
        ]),
    ...(links.length === 0
      ? []
      : [
          openRow('not counted', `overloads of ${counted(links.length, 'link')} without a rate`, {
            'names overloaded': links.map(linkLabel),
          }),
        ]),
  ];
}

function openRow(kind: string, what: string, names: Readonly<Record<string, readonly string[]>>): TableRow {
  return {
    cells: COLUMNS.map(({ heading = '' }) => {
      if (heading === 'kind') return kind;
      if (heading === 'element') return what;
      const list = names[heading];
      return list === undefined || list.length === 0 ? null : listNames(list, MOST_NAMES);
    }),
  };
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
      overloads.filter(({ atLeast }) => atLeast).length,
      ...names.map((list) => listNames(list, MOST_NAMES)),
    ],
  };
}
