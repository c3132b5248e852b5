import { agree, counted, listNames, type FindingWords } from '../../../src/doors/rule.js';
import type { NamedKind } from '../../../src/doors/plan.js';

export interface Facts {
  readonly what: NamedKind;
  readonly name: string;
  /** The rig, device, kind or file in which the name should be unique. */
  readonly within: string | undefined;
  readonly count: number;
  /** The rigs, where things of several have the name. */
  readonly rigs: readonly string[];
  /** What each of several receivers takes. */
  readonly inputs: readonly Input[];
  /** The rig of the one to rename. */
  readonly rename: string | undefined;
  /** What the kind of their device calls one of them: the only name of the kind that the device leaves out. */
  readonly meant: string | undefined;
  /** A name that nothing has, and who uses it: one of the two most likely had it. */
  readonly lost: { readonly name: string; readonly by: readonly string[] } | undefined;
}

/** What a receiver takes: a stream, else the groups it joins, else nothing yet. */
export interface Input {
  readonly takes: string | undefined;
  readonly groups: readonly string[];
}

export interface Note {
  readonly input: Input | undefined;
  readonly rename: boolean;
  /** The name that is used here and that nothing has. */
  readonly uses?: string;
}

export function words({ what, name, within, count, rigs, inputs, rename, meant, lost }: Facts): FindingWords<Note> {
  const across = rigs.length > 0;
  const said = listNames(inputs.map((input) => `one ${inputWords(input)}`));
  return {
    what: `${counted(count, what)}${within === undefined ? '' : ` of ${within}`} are called ${name}${across ? `, in ${listNames(rigs)}` : ''}${said === '' ? '' : `: ${said}`}${lost === undefined ? '' : `; ${listNames(lost.by, 3)} ${agree(lost.by.length, 'refers', 'refer')} to ${lost.name}, which nothing is called`}`,
    onAir: across
      ? 'on the radio and on labels nobody can tell them apart once the rigs are joined: the wrong box gets changed'
      : ON_AIR[what],
    fix: across
      ? `put the rig into one of the names, ${rename?.toLowerCase() ?? ''}-${name} for one`
      : lost !== undefined
        ? `call the one that is meant by ${lost.name} so`
        : meant !== undefined
          ? `call the one in the place of ${meant} so, which ${within ?? 'the device'} leaves out of its kind`
          : 'give each of them a name of its own, here and wherever it is referred to; or take one out if it was written twice',
    label: (label, note) =>
      note.uses !== undefined
        ? `${label}: refers to ${note.uses}`
        : `${label}${note.input === undefined ? '' : `, ${inputWords(note.input)}`}${note.rename ? ': give it another name' : ''}`,
  };
}

/** `takes cam-1/video`, `joins 239.1.1.1 and 239.2.1.1`. */
export function inputWords({ takes, groups }: Input): string {
  if (takes !== undefined) return `takes ${takes}`;
  return groups.length === 0 ? 'takes nothing yet' : `joins ${groups.join(' and ')}`;
}

const ON_AIR: Readonly<Record<NamedKind, string>> = {
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
