/** What streams wait on their way, for a person. */
import { groupBy } from '../../collections/group-by.js';
import type { Budget, Chain, DelayGap, LipSyncDelay, RoundTripDelay } from '../../model/delay/index.js';
import type { Block, Column, Page, Part, Row, TableRow } from '../../page/page.js';
import { prose, say, sayNames } from '../../page/phrase.js';
import { block, headed, inset, row, rowsPart } from '../../page/rows.js';
import { counted } from '../../words/counts.js';
import { blindLines } from '../blind.js';
import { cautionRow } from '../caution.js';
import { problemBlocks } from '../problems.js';
import { budgetsOf } from './budgets.js';
import { type DelayResult } from '../../answers/delay.js';
import {
  gapWords,
  leadWords,
  lipSyncWords,
  partWords,
  sourceWords,
  speechWords,
  timeWords,
} from '../../words/delays.js';

const LABEL_ROOM = 13;
const MOST_ROWS = 20;
const MOST_NAMES = 3;

const COLUMNS: readonly Column[] = [{ type: 'number', size: 10 }, { type: 'phrase' }];

/** What could not be read, pairs, round trips, receptions. */
export function delayPage(result: DelayResult): Page {
  return {
    blocks: [...problemBlocks(result.problems), ...answerBlocks(result), ...block(...rows(cautionRow()))],
  };
}

function answerBlocks(result: DelayResult): readonly Block[] {
  const { delays, asked, all } = result;
  if (delays === undefined) return [];
  const budgets = budgetsOf(result);
  if (asked !== undefined) return askedBlocks(asked, budgets);
  return [
    ...delays.lipSyncs.map(lipSyncBlock),
    ...delays.roundTrips.map(roundTripBlock),
    receptionsBlock(result, budgets, all ? Infinity : MOST_ROWS),
  ];
}

function rows(list: readonly Row[]): readonly Part[] {
  return rowsPart(LABEL_ROOM, list);
}

function lipSyncBlock({ pair, picture, sound, leadNs, pictureGaps, soundGaps, verdict }: LipSyncDelay): Block {
  const known = verdict === 'open' ? ' of what is known' : '';
  return headed(
    `LIP SYNC ${pair.name}, at ${pair.at?.name ?? ''}`,
    ...rows([
      ...row('Result', prose(`${leadWords(leadNs)}${known}: ${lipSyncWords(verdict)}`)),
      ...chainRows('Picture', picture),
      ...chainRows('Sound', sound),
      ...gapRows([...pictureGaps, ...soundGaps]),
    ]),
  );
}

function roundTripBlock({ trip, there, back, totalNs, verdict }: RoundTripDelay): Block {
  const gaps = [...there.gaps, ...back.gaps];
  return headed(
    `ROUND TRIP ${trip.name}`,
    ...rows([
      ...row('Result', prose(`${atLeast(gaps)}${timeWords(totalNs)} there and back; ${speechWords(verdict)}`)),
      ...chainRows('There', there),
      ...chainRows('Back', back),
      ...gapRows(gaps),
    ]),
  );
}

function chainRows(label: string, chain: Chain): readonly Row[] {
  const streams = chain.hops.map(({ sender }) => sender.label);
  const sum = `${atLeast(chain.gaps)}${timeWords(chain.totalNs)}`;
  return [...row(label, say`${sum} by ${sayNames(streams, streams.length)}`), ...partRows(chain)];
}

function partRows({ items }: Pick<Budget, 'items'>): readonly Row[] {
  return items
    .filter((item) => item.ns > 0)
    .flatMap((item) =>
      inset(
        timeWords(item.ns),
        say`${partWords(item.part)}: ${sayNames(item.names, MOST_NAMES)} (${prose(sourceWords(item))})`,
      ),
    );
}

/** Names that lack the same are one text. */
function gapRows(gaps: readonly DelayGap[]): readonly Row[] {
  const byKind = groupBy(gaps, ({ lacks }) => lacks);
  const texts = [...byKind.values()].map((alike) => {
    const { what, write } = gapWords(alike[0]);
    const names = [...new Set(alike.flatMap((gap) => gap.names))];
    return say`${prose(what)} (${sayNames(names, MOST_NAMES)}): ${prose(write)}`;
  });
  return row('Not known', ...texts);
}

function receptionsBlock({ blind }: DelayResult, budgets: readonly Budget[], most: number): Block {
  const shown = budgets.slice(0, most);
  const further = budgets.length - shown.length;
  return headed(
    'EACH RECEPTION, SLOWEST FIRST',
    ...(budgets.length === 0 ? rows(row('', prose('Not judged: the plan has no receiver that takes a stream.'))) : []),
    { kind: 'table', columns: COLUMNS, rows: shown.map(tableRow) },
    ...rows([
      ...(further === 0 ? [] : row('Further', prose(`${counted(further, 'reception')} more (--all lists them)`))),
      ...row(
        'Read as',
        prose('from what the sender captures to what comes out of the receiver; + where parts are not known'),
      ),
      ...row('Not judged', ...blindLines(blind).map(prose)),
      ...gapRows(budgets.flatMap(({ gaps }) => gaps)),
    ]),
  );
}

function tableRow({ sender, receiver, totalNs, gaps }: Budget): TableRow {
  return {
    cells: [`${timeWords(totalNs)}${gaps.length > 0 ? ' +' : ''}`, say`${sender.label} at ${receiver.label}`],
  };
}

function askedBlocks(asked: NonNullable<DelayResult['asked']>, budgets: readonly Budget[]): readonly Block[] {
  const taken = new Set(budgets.map(({ sender }) => sender));
  return [
    ...budgets.map((budget) =>
      headed(
        `${budget.sender.label} at ${budget.receiver.label}`,
        ...rows([
          ...row('Sum', prose(`${atLeast(budget.gaps)}${timeWords(budget.totalNs)}`)),
          ...partRows(budget),
          ...gapRows(budget.gaps),
        ]),
      ),
    ),
    ...asked
      .filter((sender) => !taken.has(sender))
      .map((sender) =>
        headed(sender.label, ...rows(row('Sum', prose('not judged: no receiver of the plan takes this stream')))),
      ),
  ];
}

function atLeast(gaps: readonly DelayGap[]): string {
  return gaps.length > 0 ? 'at least ' : '';
}
