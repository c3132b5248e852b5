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
  return `no ${joinWords(parts, 'or')}`;
}

/** `a, b and c`; past `most` names, `a, b, c and 397 more`. */
export function listNames(names: readonly string[], most = 6): string {
  return joinWords(names.length > most ? [...names.slice(0, most), `${names.length - most} more`] : names, 'and');
}

/** `a, b and c`. */
export function joinWords(words: readonly string[], last: 'and' | 'or'): string {
  return words.length < 2 ? words.join('') : `${words.slice(0, -1).join(', ')} ${last} ${words.at(-1) ?? ''}`;
}
