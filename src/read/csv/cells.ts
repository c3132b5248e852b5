/** What the cells of a stream list say. A cell that says nothing is undefined; one that cannot be read, a problem. */
import { isMulticast, parseAddress } from '../../values/address.js';
import { toName } from '../names.js';
import { quote, type ProblemList } from '../problem-list.js';
import type { Placed } from '../tree.js';
import { SPREADSHEET_ERROR, type Cell } from './records.js';

/** What planners write for `not yet` and `not applicable` (common practice, no source). */
const EMPTY = /^(-+|–|—|n\/?a|none|tbd|tbc|tba|unused|\?+)$/i;

export function isEmpty(cell: Cell | undefined): boolean {
  return cell === undefined || cell.text === '' || EMPTY.test(cell.text);
}

export interface GroupCell {
  readonly multicast: boolean;
  readonly address: Placed<string>;
  /** Of a cell written `239.1.2.3:5004`. */
  readonly port: Placed<number> | undefined;
}

export function readGroup(cell: Cell, problems: ProblemList): GroupCell | undefined {
  const joined = /^(\d+\.\d+\.\d+\.\d+):(\d{1,5})$/.exec(cell.text);
  const text = joined?.[1] ?? cell.text;
  const address = parseAddress(text);
  const port = joined?.[2];
  if (address === undefined || (port !== undefined && Number(port) > 65535)) {
    problems.add(cell.span, `${explain(cell.text)} is not a multicast group`, 'write an address such as `239.20.1.1`');
    return undefined;
  }
  const { start, end } = cell.span;
  return {
    multicast: isMulticast(address),
    address: { value: text, span: { start, end: start + text.length } },
    port: port === undefined ? undefined : { value: Number(port), span: { start: end - port.length, end } },
  };
}

export function readAddress(cell: Cell, problems: ProblemList): Placed<string> | undefined {
  if (parseAddress(cell.text) !== undefined) return { value: cell.text, span: cell.span };
  problems.add(cell.span, `${explain(cell.text)} is not a source address`, 'write an address such as `10.20.1.31`');
  return undefined;
}

/** A whole number, also as a spreadsheet's `5004.0`. */
export function readNumber(
  cell: Cell,
  what: string,
  [least, most]: readonly [number, number],
  problems: ProblemList,
): Placed<number> | undefined {
  const digits = /^(\d{1,10})(?:[.,]0{1,9})?$/.exec(cell.text)?.[1];
  const value = Number(digits);
  if (digits !== undefined && value >= least && value <= most) return { value, span: cell.span };
  problems.add(
    cell.span,
    `${what} ${explain(cell.text)} is not a number from ${least} to ${most}`,
    `write a whole number from ${least} to ${most}`,
  );
  return undefined;
}

/** A number, or a name of RFC 2474 (CS), RFC 2597 (AF) or RFC 3246 (EF). */
export function readDscp(cell: Cell, problems: ProblemList): Placed<number> | undefined {
  const value = dscpByName(cell.text.toUpperCase());
  return value === undefined ? readNumber(cell, 'DSCP', [0, 63], problems) : { value, span: cell.span };
}

function dscpByName(name: string): number | undefined {
  if (name === 'EF') return 46;
  const selector = /^CS([0-7])$/.exec(name);
  if (selector !== null) return 8 * Number(selector[1]);
  const assured = /^AF([1-4])([1-3])$/.exec(name);
  return assured === null ? undefined : 8 * Number(assured[1]) + 2 * Number(assured[2]);
}

/** Longest bare number taken for milliseconds, the unit of SDP: a bare `125` is more likely meant as microseconds. */
const LONGEST_BARE_MS = 20;

export function readPacketTime(cell: Cell, problems: ProblemList): Placed<string> | undefined {
  const match = /^(\d{1,9}(?:[.,]\d{1,9})?)\s*(ns|us|µs|μs|ms|s)?$/i.exec(cell.text);
  const number = match?.[1]?.replace(',', '.');
  const unit = match?.[2]?.toLowerCase().replace(/^[µμ]s$/, 'us');
  if (number === undefined || (unit === undefined && Number(number) > LONGEST_BARE_MS)) {
    problems.add(cell.span, `packet time ${explain(cell.text)} has no unit or is no time`, 'write `1 ms` or `125 us`');
    return undefined;
  }
  return { value: `${number} ${unit ?? 'ms'}`, span: cell.span };
}

const ESSENCES: ReadonlyMap<string, 'video' | 'audio' | 'data'> = new Map([
  ['video', 'video'],
  ['vid', 'video'],
  ['v', 'video'],
  ['audio', 'audio'],
  ['aud', 'audio'],
  ['a', 'audio'],
  ['data', 'data'],
  ['anc', 'data'],
  ['ancillary', 'data'],
  ['ancillary data', 'data'],
  ['metadata', 'data'],
]);

/** Undefined for any other word: a column `type` may tell cameras from stage boxes. */
export function readEssence(cell: Cell): Placed<string> | undefined {
  const value = ESSENCES.get(cell.text.toLowerCase());
  return value === undefined ? undefined : { value, span: cell.span };
}

/** A reference by name, compared exactly: what no name of a plan can be is a problem. */
export function readReference(cell: Cell, what: string, problems: ProblemList): Placed<string> | undefined {
  const name = toName(cell.text);
  if (name === cell.text) return { value: name, span: cell.span };
  problems.add(
    cell.span,
    `${what} ${quote(cell.text)} can be no name: it has a slash or a line break, or is too long`,
    `write the name the plan gives this ${what}`,
  );
  return undefined;
}

function explain(text: string): string {
  if (SPREADSHEET_ERROR.test(text)) return `spreadsheet error ${quote(text)}`;
  return text.startsWith('=') ? `formula ${quote(text)}, which is not evaluated,` : quote(text);
}
