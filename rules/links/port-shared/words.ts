import {
  lastOf,
  listNames,
  portLabel,
  type FindingWords,
  type Link,
  type NonEmpty,
  type Port,
} from '../../../src/doors/rule.js';
import { linkEnds } from '../../../src/doors/links.js';

export interface Facts {
  readonly port: Port;
  /** The last is the one to move. */
  readonly links: NonEmpty<Link>;
  /** A port for it. */
  readonly free: Port | undefined;
}

export type Note = 'move';

export function words({ port, links, free }: Facts): FindingWords<Note> {
  const several = links.length > 2;
  return {
    what: `port ${portLabel(port)} is an end of ${links.length} links: ${listNames(links.map(linkWithEnds))}`,
    onAir: `only one of them gets plugged in: what is behind the ${several ? 'others' : 'other'} is cut off, or ends on a port nobody planned`,
    fix: `give ${several ? 'each of the links' : `link ${linkWithEnds(lastOf(links))}`} a port of its own on ${port.switch.name}${free === undefined ? '' : `; ${portLabel(free)} is free`}`,
    label: (name) => `${name}: give it another port`,
  };
}

/** Two links may share both ends, so a name alone does not tell them apart. */
export function linkWithEnds(link: Link): string {
  return link.name === undefined ? linkEnds(link) : `${link.name} (${linkEnds(link)})`;
}
