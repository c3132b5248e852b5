import { agree, portRanges, type FindingWords, type Switch } from '../../../src/doors/rule.js';

/** A key of an entry and its value as it is written. */
export interface Said {
  readonly key: string;
  readonly text: string;
}

export interface Entry {
  readonly name: string;
  /** Asked about. */
  readonly keys: readonly string[];
  readonly says: readonly Said[];
}

export interface Facts {
  readonly switch: Switch;
  readonly ports: readonly string[];
  /** Both entries of the first port they disagree on; absent where they agree. */
  readonly differing: readonly Entry[] | undefined;
}

export interface Note {
  /** The later of the two. */
  readonly again: boolean;
  readonly says: readonly Said[];
}

export function words({ switch: owner, ports, differing }: Facts): FindingWords<Note> {
  const ranges = portRanges(ports);
  const said = differing?.map(({ name, keys, says }) => `${name} has ${saidWords(says, keys)}`).join(', ');
  return {
    what: `${agree(ports.length, 'port')} ${ranges} of switch ${owner.name} ${agree(ports.length, 'is', 'are')} written in two entries${said === undefined ? ' that say the same' : ` that say different things: ${said}`}`,
    onAir:
      said === undefined
        ? 'nothing while both entries agree; one of them will be forgotten at the next change'
        : 'the port gets configured one way or the other: whoever reads the other entry plugs into the wrong VLAN or rate; every other check here counts the entry written first',
    fix: `write each port once: take ${ranges} out of one of the two entries`,
    label: (name, { again, says }) => `${again ? 'again ' : ''}${name}: ${saidWords(says, ALL)}`,
  };
}

const ALL = ['rate', 'access', 'trunk', 'native', 'mtu'];

function saidWords(says: readonly Said[], keys: readonly string[]): string {
  return says.length === 0 ? `no ${keys.join(' or ')}` : says.map(({ key, text }) => `${key} ${text}`).join(', ');
}
