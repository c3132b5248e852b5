/** Links and host ports that have no rate, in words and as data. */
import type { Rateless } from '../../model/network/index.js';
import { linkLabel, portLabel } from '../../model/vlans/index.js';
import { prose, say, sayNames, type Phrase } from '../../page/phrase.js';
import { agree, counted } from '../../words/counts.js';
import { listNames } from '../../words/lists.js';

const MOST_NAMES = 12;

export function isEmpty({ links, ports }: Rateless): boolean {
  return links.length + ports.length === 0;
}

/** `2 links and 1 host port that carry streams`. */
export function ratelessCounts({ links, ports }: Rateless): string {
  const counts = listNames([
    ...(links.length === 0 ? [] : [counted(links.length, 'link')]),
    ...(ports.length === 0 ? [] : [counted(ports.length, 'host port')]),
  ]);
  return `${counts} that ${agree(links.length + ports.length, 'carries', 'carry')} streams`;
}

/** What to write, and where. */
export function ratelessWords({ links, ports }: Rateless): readonly Phrase[] {
  return [
    ...entry('link', links.map(linkLabel), 'give each a `rate`, or the ports at its ends'),
    ...entry('host port', ports.map(portLabel), 'give each a `rate`, or the interface that stands at it'),
  ];
}

function entry(what: string, names: readonly string[], write: string): readonly Phrase[] {
  return names.length === 0
    ? []
    : [say`${counted(names.length, what)} (${sayNames(names, MOST_NAMES)}): ${prose(write)}`];
}

export function ratelessJson({ links, ports }: Rateless): object {
  return { links: links.map(linkLabel), ports: ports.map(portLabel) };
}
