import { listNames, plural, type FindingWords, type Sender } from '../../../src/lint/rule.js';

export type NameKind =
  | 'device'
  | 'switch'
  | 'VLAN'
  | 'network'
  | 'device kind'
  | 'format'
  | 'link'
  | 'interface'
  | 'sender'
  | 'receiver'
  | 'stream';

/** What tells a receiver from its namesake: the sender it takes, or the groups it joins. */
export type Takes = { readonly sender: Sender } | { readonly groups: readonly string[] };

export interface Facts {
  readonly kind: NameKind;
  readonly name: string;
  /** A rig, a device, a device kind, a file, or nothing. */
  readonly within: string;
  readonly count: number;
  /** Where the things are of several rigs: their names. */
  readonly rigs: readonly string[];
  /** The rig of the one to rename. */
  readonly renameIn: string;
  readonly takes: readonly Takes[];
}

export interface Note {
  readonly takes: Takes | undefined;
  /** The one to rename. */
  readonly rename: boolean;
}

export function words({ kind, name, within, count, rigs, renameIn, takes }: Facts): FindingWords<Note> {
  const across = rigs.length > 1;
  const of = within === '' ? '' : ` of ${within}`;
  const said = takes.length === 0 ? '' : `: ${listNames(takes.map((one) => `one ${takesWords(one)}`))}`;
  return {
    what: `${count} ${plural(kind)}${of} are called ${name}${across ? `, in ${listNames(rigs)}` : ''}${said}`,
    onAir: across
      ? 'on the radio and on labels nobody can tell them apart once the rigs are joined: the wrong box gets changed'
      : ON_AIR[kind],
    fix: across
      ? `put the rig into one of the names, ${renameIn.toLowerCase()}-${name} for one`
      : 'give each of them a name of its own, here and wherever it is referred to; or take one out if it was written twice',
    label: (label, note) =>
      `${label}${note.takes === undefined ? '' : `, ${takesWords(note.takes)}`}${note.rename ? ': give it another name' : ''}`,
  };
}

function takesWords(takes: Takes): string {
  if ('sender' in takes) return `takes ${takes.sender.label}`;
  return takes.groups.length === 0 ? 'takes nothing yet' : `joins ${takes.groups.join(' and ')}`;
}

const ON_AIR: Readonly<Record<NameKind, string>> = {
  device:
    'whatever refers to the name gets the first one: receivers take the wrong picture, and a change is made on the wrong box',
  switch:
    'whatever refers to the name gets the first one: cables go into the wrong switch, and the other one is configured by nobody',
  VLAN: 'hosts and ports that name the VLAN get the first one: the second one has nobody in it, and its id, subnet and querier never come to the switches',
  network:
    'VLANs that name the network get the first one: what the second one says of its leg and role counts for nobody',
  'device kind':
    'devices of the kind get the first one: interfaces and streams of the second are missing on all of them',
  format:
    'streams that name the format get the first one: bandwidth is counted, and receivers are set, for the wrong one',
  link: 'two cables bear one label: on the day the wrong one is pulled or patched',
  interface: 'streams that name the interface go out and in on the first one: the second cable carries nothing',
  sender: 'receivers that take it by name get the first one: the wrong picture or sound',
  receiver: 'nobody can tell which of the two inputs is meant: a route is made on the wrong one',
  stream: 'receivers that take it by name get the first one, and nobody can tell from the list which of them is on air',
};
