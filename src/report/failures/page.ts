/** What each single failure takes, worst first, for a person. */
import type { FailureRow, FailureTable, StreamHit, Unjudged } from '../../model/explain/index.js';
import { linkLabel } from '../../model/vlans/index.js';
import type { Block, Column, Detail, Page, Part, Row, TableRow } from '../../page/page.js';
import { prose, say, sayAll, sayNames, type Phrase } from '../../page/phrase.js';
import { block, headed, paragraph, row, rowsPart } from '../../page/rows.js';
import { formatRate } from '../../values/quantity.js';
import { choiceLabel } from '../../words/labels.js';
import { agree, counted } from '../../words/counts.js';
import { atLeastWords } from '../../words/loads.js';
import { elementWords, vlanWords } from '../../words/network.js';
import { listNames } from '../../words/lists.js';
import { blindLines, blindWords } from '../blind.js';
import { cautionRow } from '../caution.js';
import { problemBlocks } from '../problems.js';
import { harmless, rowsOf, type RankedRow } from './rows.js';
import { type FailuresResult } from '../../answers/failures.js';
import { streamNames, unjudgedStreams, unjudgedWhat, unjudgedWrite } from './words.js';

const LABEL_ROOM = 13;
const MOST_ROWS = 40;
const BESIDES = 'take nothing from what still stands: one leg of two, or their own inputs (--all shows them)';
const READ_AS =
  'numbers count streams: LOST to every receiver still standing, IN PART to some of them, ' +
  'ONE LEG kept with a leg less. NO QUERIER counts VLANs nobody queries any more; what receivers lose ' +
  'when memberships end is told with the seconds until then';

const COLUMNS: readonly Column[] = [
  { heading: 'RANK', type: 'number' },
  { heading: 'LOST', type: 'number', folds: true },
  { heading: 'IN PART', type: 'number', folds: true },
  { heading: 'ONE LEG', type: 'number', folds: true },
  { heading: 'NO QUERIER', type: 'number', folds: true },
  { heading: 'WHAT FAILS', type: 'phrase' },
];
/** Characters for what fails beside the numbers. */
const ROOM = 34;

/** What could not be read, the failures, what could not be judged. */
export function failuresPage(result: FailuresResult): Page {
  const { table, problems, asked } = result;
  const answer = (one: FailureTable): readonly Block[] =>
    asked === undefined ? rankedBlocks(result, one) : askedBlocks(result, one);
  return {
    blocks: [
      ...problemBlocks(problems),
      ...(table === undefined ? [] : answer(table)),
      ...block(
        ...rows([
          ...(table === undefined ? [] : [...uncountedRows(table), ...notJudged(result, table)]),
          ...cautionRow(),
        ]),
      ),
    ],
  };
}

function rows(list: readonly Row[]): readonly Part[] {
  return rowsPart(LABEL_ROOM, list);
}

function rankedBlocks(result: FailuresResult, table: FailureTable): readonly Block[] {
  const ranked = rowsOf(result);
  const shown = result.all ? ranked : ranked.slice(0, MOST_ROWS);
  const hidden = table.rows.length - ranked.length;
  const further = ranked.length - shown.length;
  const takers = `${counted(table.receptions, 'receiver')} ${agree(table.receptions, 'takes', 'take')}`;
  const untaken = table.untaken.map((one) => one.label);
  return [
    headed(
      'IF ONE THING FAILS, WORST FIRST',
      shown.length === 0
        ? paragraph(prose(nothingShown(result, table)))
        : { kind: 'table', columns: COLUMNS, rows: shown.map(tableRow), room: ROOM },
    ),
    ...block(
      ...rows([
        ...row('Judged', prose(`${counted(table.streams, 'stream')} as ${takers} them`)),
        ...(further === 0 ? [] : row('Further', prose(`${further} more take something off air (--all shows them)`))),
        ...(hidden === 0 ? [] : row('Besides', prose(`${hidden} more ${BESIDES}`))),
        ...(untaken.length === 0
          ? []
          : row(
              'Not taken',
              say`${counted(untaken.length, 'stream')} that no receiver of the plan takes: ${sayNames(untaken, 4)}`,
            )),
        ...row('Read as', prose(READ_AS)),
      ]),
    ),
  ];
}

/** Overloads that nobody can see. */
function uncountedRows({ uncounted: { streams, links } }: FailureTable): readonly Row[] {
  const unrated = counted(streams, 'stream leg');
  const bare = counted(links.length, 'link');
  if (streams === 0 && links.length === 0) return [];
  return row(
    'Not counted',
    streams === 0
      ? say`overloads of ${bare} without a rate: ${sayNames(links.map(linkLabel), 4)}`
      : links.length === 0
        ? say`${unrated} without a known rate: overloads are at least what is said, and more links may be overloaded`
        : say`${unrated} without a known rate, and overloads of ${bare} without one: ${sayNames(links.map(linkLabel), 4)}`,
  );
}

/** Nothing is said to stand that was not judged. */
function nothingShown({ blind }: FailuresResult, { receptions, unjudged }: FailureTable): string {
  const names = blindWords(blind).map(({ what }) => what);
  if (receptions === 0)
    return `Not judged: ${names.length === 0 ? 'no stream is followed to a receiver' : listNames(names)}.`;
  if (names.length > 0) return `Nothing that was judged takes anything off air; not judged: ${listNames(names)}.`;
  return unjudged.length > 0 ? 'Nothing that was judged takes anything off air.' : 'Nothing takes anything off air.';
}

function tableRow({ rank, row: failure }: RankedRow): TableRow {
  const { lostEverywhere, lostInPart, fewerLegs, queriersLost, element } = failure;
  return {
    cells: [
      rank,
      lostEverywhere.length,
      lostInPart.length,
      fewerLegs.length,
      queriersLost.length,
      say`${elementWords(element)}`,
    ],
    details: detailsOf(failure),
  };
}

function detailsOf({
  lostEverywhere,
  lostInPart,
  fewerLegs,
  withIt,
  lostLater,
  laterS,
  queriersLost,
  overloads,
}: FailureRow): readonly Detail[] {
  const queried = queriersLost.map(({ vlan }) => vlanWords(vlan));
  return [
    ...streams('lost', lostEverywhere, 6),
    ...streams('in part', lostInPart, 4),
    ...(fewerLegs.length === 0 ? [] : [{ label: 'one leg', folded: streamCount(fewerLegs) }]),
    ...(withIt.length === 0 || lostEverywhere.length + lostInPart.length + fewerLegs.length > 0
      ? []
      : [{ label: 'own inputs', text: streamCount(withIt) }]),
    ...streams(`after ${laterS} s`, lostLater, 4),
    ...(queried.length === 0 ? [] : [{ label: 'no querier', text: sayNames(queried, 4) }]),
    ...(overloads.length === 0 ? [] : [{ label: 'overloads', text: overloadWords(overloads) }]),
  ];
}

function streams(label: string, hits: readonly StreamHit[], most: number): readonly Detail[] {
  if (hits.length === 0) return [];
  return [{ label, text: sayNames(streamNames(hits), most), folded: streamCount(hits) }];
}

function streamCount(hits: readonly StreamHit[]): Phrase {
  return say`${counted(hits.length, 'stream')}`;
}

function overloadWords(overloads: FailureRow['overloads']): Phrase {
  return sayAll(
    overloads.map(
      ({ links, loadBps, atLeast, rateBps }) =>
        say`${sayNames(links.map(linkLabel))} with ${atLeastWords(atLeast)}${formatRate(loadBps)} of ${formatRate(rateBps)}`,
    ),
  );
}

function askedBlocks(result: FailuresResult, table: FailureTable): readonly Block[] {
  const { rows: all } = table;
  const harmlessWords =
    table.receptions === 0
      ? 'not judged: no stream is followed to a receiver'
      : 'nothing, and nothing is weakened, as far as the plan can be judged';
  return [
    ...rowsOf(result).map(({ rank, row: failure }) =>
      headed(
        `IF ${elementWords(failure.element)} FAILS`,
        ...rows([
          ...row('Rank', prose(`${rank} of ${all.length}`)),
          ...everyStream('Lost', failure.lostEverywhere),
          ...everyStream('In part', failure.lostInPart),
          ...everyStream('One leg', failure.fewerLegs),
          ...(failure.lostLaterCount === 0 ? [] : everyStream(`After ${failure.laterS} s`, failure.lostLater)),
          ...(failure.withIt.length === 0 ? [] : everyStream('Own inputs', failure.withIt)),
          ...row('No querier', ...noQuerier(failure)),
          ...(failure.element.kind === 'link' ? row('Overloads', orNone(overloadWords(failure.overloads))) : []),
        ]),
      ),
    ),
    ...harmless(result).map((element) =>
      headed(`IF ${elementWords(element)} FAILS`, ...rows(row('Lost', prose(harmlessWords)))),
    ),
  ];
}

function noQuerier({ queriersLost }: FailureRow): readonly Phrase[] {
  if (queriersLost.length === 0) return [orNone([])];
  return queriersLost.map(({ vlan, withinS }) => say`${vlanWords(vlan)}: memberships end within ${String(withinS)} s`);
}

function orNone(phrase: Phrase): Phrase {
  return phrase.length === 0 ? prose('none') : phrase;
}

function everyStream(label: string, hits: readonly StreamHit[]): readonly Row[] {
  if (hits.length === 0) return row(label, orNone([]));
  return row(
    label,
    prose(counted(hits.length, 'stream')),
    ...hits.map(({ sender, receivers }) => {
      const names = receivers.map(choiceLabel);
      return say`${sender.label} at ${sayNames(names, names.length)}`;
    }),
  );
}

function notJudged({ blind }: FailuresResult, { unjudged }: FailureTable): readonly Row[] {
  return row('Not judged', ...blindLines(blind).map(prose), ...unjudged.map(unjudgedWords));
}

function unjudgedWords(one: Unjudged): Phrase {
  const { whole, inPart } = unjudgedStreams(one);
  const receivers = one.receivers.map((receiver) => receiver.label);
  const counts = [
    ...(whole.length === 0 ? [] : [say`${counted(whole.length, 'stream')} (${sayNames(whole, 3)})`]),
    ...(inPart.length === 0
      ? []
      : [say`a leg or receiver of ${counted(inPart.length, 'stream')} (${sayNames(inPart, 3)})`]),
    ...(whole.length + inPart.length > 0
      ? []
      : [say`${counted(receivers.length, 'receiver')} (${sayNames(receivers, 3)})`]),
  ];
  return say`${sayAll(counts, ',')}: ${prose(unjudgedWhat(one.why))}. To have it judged, ${prose(unjudgedWrite(one.why))}.`;
}
