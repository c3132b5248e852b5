import {
  agree,
  linkLabel,
  listNames,
  type FindingWords,
  type Link,
  type NonEmpty,
  type Switch,
} from '../../../src/doors/rule.js';

export interface Facts {
  readonly switches: readonly [Switch, Switch];
  readonly open: readonly Link[];
  readonly idle: NonEmpty<Link>;
  /** Whether it is stated which of them idle. */
  readonly known: boolean;
}

export type Note = 'idle' | 'open';

export function words({ switches: [a, b], open, idle, known }: Facts): FindingWords<Note> {
  const all = [...open, ...idle].map(linkLabel).sort();
  const waiting = listNames(idle.map(linkLabel).sort(), 4);
  return {
    what: `links ${listNames(all, 4)} run in parallel between ${[a.name, b.name].sort().join(' and ')} and are not an aggregate: the spanning tree keeps ${known ? waiting : `all but one blocked, ${waiting} as far as the plan tells`}${known ? ' blocked' : ''}`,
    onAir: `${waiting} ${agree(idle.length, 'carries', 'carry')} nothing while ${agree(open.length, 'the other is', 'the others are')} up: the room counted on is not there`,
    fix: `make them one \`aggregate\` at both ends, or leave ${agree(idle.length, 'it', 'them')} as a standby and waive this`,
    label: (name, note) => `${name}: ${note === 'idle' ? 'blocked' : 'forwards'}`,
  };
}
