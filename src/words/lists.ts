import type { Format, Sender } from '../plan/types.js';

/** `no picture`, `no sound`, `no data (tally)`: what is missing when these streams are. */
export function nothingOf(streams: readonly Pick<Sender, 'essence' | 'format'>[]): string {
  const essences = new Set(streams.map(({ essence, format }) => essence ?? format?.essence));
  const has = (essence: Format['essence']): boolean =>
    essences.has(essence) || essences.has(undefined) || essences.size === 0;
  if (essences.size === 1 && essences.has('data')) {
    const names = [...new Set(streams.map(({ format }) => format?.name))].sort();
    return `no data${names.length > 3 || names.includes(undefined) ? '' : ` (${names.join(', ')})`}`;
  }
  const parts = [
    has('video') ? ['picture'] : [],
    has('audio') ? ['sound'] : [],
    essences.has('data') ? ['data'] : [],
  ].flat();
  return `no ${listOr(parts)}`;
}

/**
 * Names, each once: `a, b and c`; past `most` names, `a, b, c and 397 more`. A list is joined once, with the conjunction it needs: what is
 * joined is never cut apart again, for names may hold commas and conjunctions.
 */
export function listNames(names: readonly string[], most = 6, conjunction: 'and' | 'or' = 'and'): string {
  const each = [...new Set(names)];
  const shown = each.length > most ? [...each.slice(0, most), `${each.length - most} more`] : each;
  return joinWords(shown, conjunction);
}

/** `a, b or c`; past `most` names, `a, b, c or 397 more`. */
export function listOr(names: readonly string[], most?: number): string {
  return listNames(names, most, 'or');
}

/** `a, b and c`, however many. */
export function joinWords(words: readonly string[], last: 'and' | 'or'): string {
  return words.length < 2 ? words.join('') : `${words.slice(0, -1).join(', ')} ${last} ${words.at(-1) ?? ''}`;
}
