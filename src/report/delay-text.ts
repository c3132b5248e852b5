/** What streams wait on their way, for a person. */
import type { Budget, DelayGap } from '../model/delay/budget.js';
import type { Chain } from '../model/delay/chain.js';
import type { LipSyncDelay, RoundTripDelay } from '../model/delay/index.js';
import { heading, joinBlocks, problemBlocks, rowWriter, type Row } from './blocks.js';
import { budgetsOf, type DelayResult } from './delay-result.js';
import { gapWords, leadWords, lipSyncWords, partWords, sourceWords, speechWords, timeWords } from './delay-words.js';
import { hang, prose } from './layout.js';
import { createPaint, type Paint } from './paint.js';
import { CAUTION, type ReportOptions } from './reporter.js';
import { say, sayNames } from './say.js';
import { count } from './words.js';

/** Column in which the text beside a label starts. */
const INDENT = 13;
/** Columns of a sum in the table. */
const SUM = 12;
const MOST_ROWS = 20;
const MOST_NAMES = 3;

/** Plain text, wrapped to the width: what could not be read, pairs, round trips, receptions. */
export function reportDelayText(result: DelayResult, options: ReportOptions): string {
  const paint = createPaint(options.colour);
  const row = rowWriter(options, paint, INDENT);
  const { delays, problems, asked } = result;
  const budgets = budgetsOf(result);
  return joinBlocks([
    ...problemBlocks(problems, paint, options),
    ...(delays === undefined || asked !== undefined
      ? []
      : [
          ...delays.lipSyncs.map((one) => lipSyncBlock(one, row, paint, options)),
          ...delays.roundTrips.map((one) => roundTripBlock(one, row, paint, options)),
        ]),
    ...(delays === undefined
      ? []
      : asked === undefined
        ? [tableBlock(budgets, result.all, row, paint, options)]
        : askedBlocks(result, budgets, row, paint, options)),
    row('Caution', prose(CAUTION)),
  ]);
}

function lipSyncBlock(one: LipSyncDelay, row: Row, paint: Paint, options: ReportOptions): readonly string[] {
  const { pair, picture, sound, leadNs, pictureGaps, soundGaps, verdict } = one;
  return [
    ...heading(`LIP SYNC ${pair.name}, at ${pair.at?.name ?? ''}`, paint, options),
    ...row(
      'Result',
      prose(`${leadWords(leadNs)}${verdict === 'open' ? ' of what is known' : ''}: ${lipSyncWords(verdict)}`),
    ),
    ...chainRows('Picture', picture, row),
    ...chainRows('Sound', sound, row),
    ...gapRows([...pictureGaps, ...soundGaps], row),
  ];
}

function roundTripBlock(one: RoundTripDelay, row: Row, paint: Paint, options: ReportOptions): readonly string[] {
  const { trip, there, back, totalNs, verdict } = one;
  const gaps = [...there.gaps, ...back.gaps];
  return [
    ...heading(`ROUND TRIP ${trip.name}`, paint, options),
    ...row('Result', prose(`${atLeast(gaps)}${timeWords(totalNs)} there and back; ${speechWords(verdict)}`)),
    ...chainRows('There', there, row),
    ...chainRows('Back', back, row),
    ...gapRows(gaps, row),
  ];
}

function chainRows(label: string, chain: Chain, row: Row): readonly string[] {
  const streams = say`${sayNames(
    chain.hops.map(({ sender }) => sender.label),
    chain.hops.length,
  )}`;
  return [...row(label, say`${atLeast(chain.gaps)}${timeWords(chain.totalNs)} by ${streams}`), ...partRows(chain, row)];
}

function partRows({ items }: Pick<Budget, 'items'>, row: Row): readonly string[] {
  return items
    .filter((item) => item.ns > 0)
    .flatMap((item) =>
      row(
        `  ${timeWords(item.ns)}`,
        say`${partWords(item.part)}: ${sayNames(item.names, MOST_NAMES)} (${prose(sourceWords(item))})`,
      ),
    );
}

/** Names that lack the same are one row. */
function gapRows(gaps: readonly DelayGap[], row: Row): readonly string[] {
  const byKind = new Map<DelayGap['lacks'], Set<string>>();
  for (const { lacks, names } of gaps) {
    const known = byKind.get(lacks) ?? new Set<string>();
    for (const name of names) known.add(name);
    byKind.set(lacks, known);
  }
  return [...byKind].flatMap(([lacks, names], index) => {
    const { what, write } = gapWords({ lacks, names: [] });
    return row(
      index === 0 ? 'Not known' : '',
      say`${prose(what)} (${sayNames([...names], MOST_NAMES)}): ${prose(write)}`,
    );
  });
}

function tableBlock(
  budgets: readonly Budget[],
  all: boolean,
  row: Row,
  paint: Paint,
  options: ReportOptions,
): readonly string[] {
  const shown = all ? budgets : budgets.slice(0, MOST_ROWS);
  const further = budgets.length - shown.length;
  return [
    ...heading('EACH RECEPTION, SLOWEST FIRST', paint, options),
    ...(budgets.length === 0 ? row('', prose('The plan has no receiver that takes a stream.')) : []),
    ...shown.flatMap((budget) => tableLine(budget, options)),
    ...(further === 0 ? [] : row('Further', prose(`${count(further, 'reception')} more (--all lists them)`))),
    ...row(
      'Read as',
      prose('from what the sender captures to what comes out of the receiver; + where parts are not known'),
    ),
    ...gapRows(
      budgets.flatMap(({ gaps }) => gaps),
      row,
    ),
  ];
}

function tableLine({ sender, receiver, totalNs, gaps }: Budget, { width }: ReportOptions): readonly string[] {
  const label = `${timeWords(totalNs)}${gaps.length > 0 ? ' +' : ''}`.padStart(SUM - 2);
  return hang(label, say`${sender.label} at ${receiver.label}`, { width, indent: SUM, paint: (text) => text });
}

function askedBlocks(
  { asked }: DelayResult,
  budgets: readonly Budget[],
  row: Row,
  paint: Paint,
  options: ReportOptions,
): readonly (readonly string[])[] {
  const taken = new Set(budgets.map(({ sender }) => sender));
  return [
    ...budgets.map((budget) => [
      ...heading(`${budget.sender.label} at ${budget.receiver.label}`, paint, options),
      ...row('Sum', prose(`${atLeast(budget.gaps)}${timeWords(budget.totalNs)}`)),
      ...partRows(budget, row),
      ...gapRows(budget.gaps, row),
    ]),
    ...(asked ?? [])
      .filter((sender) => !taken.has(sender))
      .map((sender) => [
        ...heading(sender.label, paint, options),
        ...row('Sum', prose('no receiver of the plan takes this stream')),
      ]),
  ];
}

function atLeast(gaps: readonly DelayGap[]): string {
  return gaps.length > 0 ? 'at least ' : '';
}
