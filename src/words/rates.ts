/** Rates and shares in words. */
import { formatRate } from '../values/quantity.js';
import { groupBy } from '../collections/group-by.js';
import { counted } from './counts.js';
import { portRanges } from './port-ranges.js';
import { byLabel } from '../collections/order.js';
import { listNames } from './lists.js';

export interface NamedRate {
  readonly name: string;
  readonly rateBps: number;
}

/**
 * Names with their rates, the largest first, one rate said once: `cam-1 to cam-5 with 2.23 Gbit/s each and stage-1 with
 * 14.46 Mbit/s`.
 */
export function rateWords(rates: readonly NamedRate[]): string {
  const sorted = byLabel(rates, ({ name }) => name).toSorted((a, b) => b.rateBps - a.rateBps);
  const groups = [...groupBy(sorted, ({ rateBps }) => formatRate(rateBps))];
  const words = groups.slice(0, MOST_RATES).map(([rate, alike]) => {
    const names = alike.map(({ name }) => name);
    const more = names.length > MOST_NAMES ? ` and ${names.length - MOST_NAMES} more` : '';
    return `${portRanges(names.slice(0, MOST_NAMES))}${more} with ${rate}${names.length > 1 ? ' each' : ''}`;
  });
  const left = groups.slice(MOST_RATES).reduce((count, [, alike]) => count + alike.length, 0);
  return listNames(left === 0 ? words : [...words, counted(left, 'smaller one')]);
}

const MOST_RATES = 3;
const MOST_NAMES = 12;

/** `90.2 %`: a share of a rate or a table. */
export function shareWords(part: number, whole: number): string {
  return `${Number(((part / whole) * 100).toFixed(1))} %`;
}
