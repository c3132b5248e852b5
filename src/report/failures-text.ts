/** What each single failure takes, worst first, for a person. */
import type { FailureRow, FailureTable, StreamHit } from '../model/explain/failure-table.js';
import { linkLabel } from '../model/vlans/trunks.js';
import { formatRate } from '../values/quantity.js';
import { heading, joinBlocks, problemBlocks, rowWriter, type Row } from './blocks.js';
import { harmless, rowsOf, type FailuresResult, type RankedRow } from './failures-result.js';
import { streamNames, unjudgedStreams, unjudgedWhat, unjudgedWrite } from './failures-words.js';
import { hang, prose, type Piece } from './layout.js';
import { elementWords, vlanWords } from './network-words.js';
import { createPaint, type Paint } from './paint.js';
import { CAUTION, type ReportOptions } from './reporter.js';
import { say, sayAll, sayNames } from './say.js';
import { count } from './words.js';

/** Column in which the text beside a label starts. */
const INDENT = 13;
/** Below this many columns the numbers of a row are words under its name. */
const TABLE_WIDTH = 76;
const MOST_ROWS = 40;
const BESIDES = 'take nothing from what still stands: one leg of two, or their own inputs (--all shows them)';
const READ_AS =
  'numbers count streams: LOST to every receiver still standing, IN PART to some of them, ' +
  'ONE LEG kept with a leg less. NO QUERIER counts VLANs nobody queries any more';
const COLUMNS = ['LOST', 'IN PART', 'ONE LEG', 'NO QUERIER'] as const;

/** Plain text, wrapped to the width: what could not be read, the failures, what could not be judged. */
export function reportFailuresText(result: FailuresResult, options: ReportOptions): string {
  const paint = createPaint(options.colour);
  const row = rowWriter(options, paint, INDENT);
  const { table, problems, asked } = result;
  return joinBlocks([
    ...problemBlocks(problems, paint, options),
    ...(table === undefined
      ? []
      : asked === undefined
        ? tableBlocks(result, table, row, paint, options)
        : askedBlocks(result, table, row, paint, options)),
    [...(table === undefined ? [] : notJudged(table, row)), ...row('Caution', prose(CAUTION))],
  ]);
}

function tableBlocks(
  result: FailuresResult,
  table: FailureTable,
  row: Row,
  paint: Paint,
  options: ReportOptions,
): readonly (readonly string[])[] {
  const rows = rowsOf(result);
  const shown = result.all ? rows : rows.slice(0, MOST_ROWS);
  const hidden = table.rows.length - rows.length;
  const takers = `${count(table.receptions, 'receiver')} ${table.receptions === 1 ? 'takes' : 'take'}`;
  return [
    [...heading('IF ONE THING FAILS, WORST FIRST', paint, options), ...rankedLines(shown, paint, options)],
    [
      ...row('Judged', prose(`${count(table.streams, 'stream')} as ${takers} them`)),
      ...(shown.length === rows.length
        ? []
        : row('Further', prose(`${rows.length - shown.length} more take something off air (--all shows them)`))),
      ...(hidden === 0 ? [] : row('Besides', prose(`${hidden} more ${BESIDES}`))),
      ...(table.untaken.length === 0
        ? []
        : row(
            'Not taken',
            say`${count(table.untaken.length, 'stream')} that no receiver of the plan takes: ${sayNames(
              table.untaken.map((one) => one.label),
              4,
            )}`,
          )),
      ...row('Read as', prose(READ_AS)),
    ],
  ];
}

function rankedLines(rows: readonly RankedRow[], paint: Paint, options: ReportOptions): readonly string[] {
  if (rows.length === 0) return wrapAt(prose('Nothing takes anything off air.'), 0, options);
  const digits = Math.max(4, ...rows.map(({ rank }) => String(rank).length));
  const wide = options.width >= TABLE_WIDTH;
  const head = wide ? [paint.label(`${'RANK'.padStart(digits)}  ${COLUMNS.join('  ')}  WHAT FAILS`)] : [];
  const left = digits + 2 + (wide ? COLUMNS.join('  ').length + 2 : 0);
  return [
    ...head,
    ...rows.flatMap(({ rank, row }) => [
      ...rankedLine(rank, row, digits, left, wide, options),
      ...details(row, digits + 2, wide, paint, options),
    ]),
  ];
}

function rankedLine(
  rank: number,
  row: FailureRow,
  digits: number,
  left: number,
  wide: boolean,
  options: ReportOptions,
): readonly string[] {
  const numbers = numbersOf(row).map((number, index) => String(number).padStart(COLUMNS[index]?.length ?? 0));
  const label = [String(rank).padStart(digits), ...(wide ? numbers : [])].join('  ');
  return hang(label, say`${elementWords(row.element)}`, { width: options.width, indent: left, paint: (text) => text });
}

function numbersOf(row: FailureRow): readonly number[] {
  return [row.lostEverywhere.length, row.lostInPart.length, row.fewerLegs.length, row.queriersLost.length];
}

function details(
  row: FailureRow,
  indent: number,
  wide: boolean,
  paint: Paint,
  options: ReportOptions,
): readonly string[] {
  const entry = (label: string, pieces: readonly Piece[]): readonly string[] => {
    const [first, ...rest] = wrapAt(say`${label}: ${pieces}`, indent + 2, options);
    return first === undefined
      ? []
      : [first.replace(label, () => paint.label(label)), ...rest.map((line) => ` ${line}`)];
  };
  const streams = (label: string, hits: readonly StreamHit[], most: number): readonly string[] =>
    hits.length === 0 ? [] : entry(label, most === 0 ? say`${count(hits.length, 'stream')}` : named(hits, wide, most));
  return [
    ...streams('lost', row.lostEverywhere, 6),
    ...streams('in part', row.lostInPart, 4),
    ...(wide ? [] : streams('one leg', row.fewerLegs, 0)),
    ...(row.lostEverywhere.length + row.lostInPart.length + row.fewerLegs.length === 0
      ? streams('own inputs', row.withIt, 0)
      : []),
    ...(row.queriersLost.length === 0
      ? []
      : entry(
          'no querier',
          sayNames(
            row.queriersLost.map(({ vlan }) => vlanWords(vlan)),
            4,
          ),
        )),
    ...(row.overloads.length === 0 ? [] : entry('overloads', overloadWords(row))),
  ];
}

function named(hits: readonly StreamHit[], wide: boolean, most: number): readonly Piece[] {
  const names = sayNames(streamNames(hits), most);
  return wide ? names : say`${count(hits.length, 'stream')}, ${names}`;
}

function overloadWords({ overloads }: FailureRow): readonly Piece[] {
  return sayAll(
    overloads.map(
      ({ links, loadBps, rateBps }) =>
        say`${sayNames(links.map(linkLabel))} with ${formatRate(loadBps)} of ${formatRate(rateBps)}`,
    ),
  );
}

/** One column less than there is, so that a further line can be set in by one. */
function wrapAt(pieces: readonly Piece[], indent: number, options: ReportOptions): readonly string[] {
  return hang('', pieces, { width: options.width - 1, indent, paint: (text) => text });
}

function askedBlocks(
  result: FailuresResult,
  table: FailureTable,
  row: Row,
  paint: Paint,
  options: ReportOptions,
): readonly (readonly string[])[] {
  return [
    ...rowsOf(result).map(({ rank, row: failure }) => [
      ...heading(`IF ${elementWords(failure.element)} FAILS`, paint, options),
      ...row('Rank', prose(`${rank} of ${table.rows.length}`)),
      ...everyStream('Lost', failure.lostEverywhere, row),
      ...everyStream('In part', failure.lostInPart, row),
      ...everyStream('One leg', failure.fewerLegs, row),
      ...(failure.withIt.length === 0 ? [] : everyStream('Own inputs', failure.withIt, row)),
      ...(failure.queriersLost.length === 0
        ? row('No querier', prose('none'))
        : failure.queriersLost.flatMap(({ vlan, membershipS }, index) =>
            row(
              index === 0 ? 'No querier' : '',
              say`${vlanWords(vlan)}: memberships end within ${String(membershipS)} s`,
            ),
          )),
      ...(failure.element.kind !== 'link'
        ? []
        : row('Overloads', failure.overloads.length === 0 ? prose('none') : overloadWords(failure))),
    ]),
    ...harmless(result).map((element) => [
      ...heading(`IF ${elementWords(element)} FAILS`, paint, options),
      ...row('Lost', prose('nothing, and nothing is weakened, as far as the plan can be judged')),
    ]),
  ];
}

function everyStream(label: string, hits: readonly StreamHit[], row: Row): readonly string[] {
  if (hits.length === 0) return row(label, prose('none'));
  return [
    ...row(label, prose(count(hits.length, 'stream'))),
    ...hits.flatMap(({ sender, receivers }) =>
      row(
        '',
        say`${sender.label} at ${sayNames(
          receivers.map((one) => one.label),
          receivers.length,
        )}`,
      ),
    ),
  ];
}

function notJudged({ unjudged }: FailureTable, row: Row): readonly string[] {
  return unjudged.flatMap((one, index) => {
    const { whole, inPart } = unjudgedStreams(one);
    const what = prose(unjudgedWhat(one.why));
    const write = prose(unjudgedWrite(one.why));
    const counts = [
      ...(whole.length === 0 ? [] : [say`${count(whole.length, 'stream')} (${sayNames(whole, 3)})`]),
      ...(inPart.length === 0
        ? []
        : [say`a leg or receiver of ${count(inPart.length, 'stream')} (${sayNames(inPart, 3)})`]),
      ...(whole.length + inPart.length > 0
        ? []
        : [
            say`${count(one.receivers.length, 'receiver')} (${sayNames(
              one.receivers.map((receiver) => receiver.label),
              3,
            )})`,
          ]),
    ];
    return row(index === 0 ? 'Not judged' : '', say`${sayAll(counts, ',')}: ${what}. To have it judged, ${write}.`);
  });
}
