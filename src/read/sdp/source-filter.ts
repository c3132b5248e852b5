import { parseAddress4, parseAddress6 } from '../../values/address.js';
import { quote, type ProblemList } from '../problem-list.js';
import { beforeSlash, destinationKey, isHostName } from './connection.js';
import { attributes, type Section } from './lines.js';
import { spanOf, wordsOf, type Piece } from './piece.js';

/** Sources let in, by destination key; `*` stands for every destination. */
export type SourceFilters = ReadonlyMap<string, readonly Piece[]>;

const ANY = '*';
const WRITE = 'write `a=source-filter: incl IN IP4 239.1.2.3 192.168.1.10`: destination, then source (RFC 4570 §3)';

/**
 * The `a=source-filter` lines of one section. An `excl` filter lets every other source in and so names none; a source
 * given by host name has no address and is left out. RFC 4570 §3.1 allows one filter per destination: the first counts.
 */
export function readSourceFilters(section: Section, problems: ProblemList): SourceFilters | undefined {
  const lines = attributes(section, 'source-filter');
  if (lines.length === 0) return undefined;
  const filters = new Map<string, readonly Piece[]>();
  for (const line of lines) {
    const [mode, network, family, destination, ...sources] = wordsOf(line);
    if (mode === undefined || network === undefined || family === undefined || destination === undefined) {
      problems.add(spanOf(line), `source filter ${quote(line.text)} has fewer than five parts`, WRITE);
    } else if (mode.text !== 'incl' && mode.text !== 'excl') {
      problems.add(spanOf(mode), `filter mode ${quote(mode.text)} is neither \`incl\` nor \`excl\``, WRITE);
    } else if (sources.length === 0) {
      problems.add(spanOf(line), `source filter ${quote(line.text)} names no source`, WRITE);
    } else {
      const known = sources.filter((source) => isAddress(source, family, problems));
      const key = destinationKey(beforeSlash(destination).text);
      if (!filters.has(key)) filters.set(key, mode.text === 'incl' ? known : []);
    }
  }
  return filters;
}

/** Sources let in to a destination; empty when any source is. */
export function sourcesFor(filters: SourceFilters | undefined, key: string): readonly Piece[] {
  return filters?.get(key) ?? filters?.get(ANY) ?? [];
}

function isAddress(source: Piece, family: Piece, problems: ProblemList): boolean {
  if (parseAddress4(source.text) !== undefined || parseAddress6(source.text) !== undefined) return true;
  if (!isHostName(source.text, family.text)) {
    problems.add(spanOf(source), `${quote(source.text)} is neither an address nor a host name`, WRITE);
  }
  return false;
}
