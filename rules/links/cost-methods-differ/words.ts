import { agree, listNames, type FindingWords, type Switch } from '../../../src/doors/rule.js';

export interface Facts {
  readonly long: readonly Switch[];
  readonly short: readonly Switch[];
}

export type Note = 'long' | 'short';

export function words({ long, short }: Facts): FindingWords<Note> {
  const names = (list: readonly Switch[]): string =>
    listNames(
      list.map(({ name }) => name),
      4,
    );
  return {
    what: `${names(short)} ${agree(short.length, 'counts', 'count')} path costs by the short method and ${names(long)} by the long one, in one spanning tree`,
    onAir: `a 10 Gbit/s link costs 2 on ${names(short)} and 2000 on the others: paths through ${names(short)} look nearly free, and streams take them however slow they are`,
    fix: `set \`method: long\` on ${names(short)}`,
    label: (name, note) => `${name}: ${note}`,
  };
}
