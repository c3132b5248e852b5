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

/** `a, b and c`; past `most` names, `a, b, c and 397 more`. */
export function listNames(names: readonly string[], most = 6): string {
  return names.length > most
    ? joined([...names.slice(0, most), `${names.length - most} more`], 'and')
    : joined(names, 'and');
}

/** `a, b or c`. */
export function listOr(names: readonly string[]): string {
  return joined(names, 'or');
}

/** The one place where names become a list: nothing cuts a list apart again. */
function joined(names: readonly string[], conjunction: 'and' | 'or'): string {
  return names.length < 2
    ? names.join('')
    : `${names.slice(0, -1).join(', ')} ${conjunction} ${names[names.length - 1] ?? ''}`;
}
