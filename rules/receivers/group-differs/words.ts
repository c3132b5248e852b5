import {
  agree,
  counted,
  listNames,
  nothingOf,
  type FindingWords,
  type Receiver,
  type Sender,
} from '../../../src/doors/rule.js';

/** What is joined instead of what is sent; whatever does not differ is absent. */
export interface Join {
  readonly group?: string;
  readonly source?: string;
}

export interface WrongLeg {
  /** From 1; absent where the receiver has one leg only. */
  readonly leg: number | undefined;
  readonly joins: Join;
  /** Whose group it is that is joined. */
  readonly joinedSenders: readonly string[];
  /** What the stream is sent to and from. */
  readonly sent: { readonly group: string; readonly source: string };
  /** The group of the leg, whether or not it differs. */
  readonly group: string;
}

export interface Facts {
  readonly sender: Sender;
  readonly receivers: readonly Receiver[];
  readonly legs: readonly WrongLeg[];
  /** Each of the two legs has the group of the other. */
  readonly swapped: boolean;
  /** The receiver has another leg, and that one is right. */
  readonly otherLegLeft: boolean;
  /** Of an input that switches: the streams it does not join; else empty. */
  readonly choices: readonly Sender[];
}

export type Note = { readonly joins: Join } | { readonly sendsFrom: string } | { readonly sendsTo: string };

export function words(facts: Facts): FindingWords<Note> {
  const { sender, receivers, legs, swapped, otherLegLeft, choices } = facts;
  const count = receivers.length;
  if (choices.length > 0)
    return {
      what: `${listNames(receivers.map((one) => one.label))} chooses between streams, but states what it joins: with ${sender.label} it ${listNames(legs.map(clash))}, and so it is with ${counted(choices.length, 'choice')}`,
      onAir: onAir(swapped, otherLegLeft, nothingOf(choices)),
      fix: 'leave `group` and `source` out of its legs: what it joins is then what the chosen stream is sent with',
      label,
    };
  return {
    what:
      `${listNames(receivers.map((one) => one.label))} ${agree(count, 'takes', 'take')} ${sender.label}, ` +
      `but ${listNames(legs.map(clash))}${swapped ? ': the legs are swapped' : ''}`,
    onAir: onAir(swapped, otherLegLeft, nothingOf([sender])),
    fix: `have ${agree(count, 'it', 'them')} join ${listNames(legs.map(wanted))}, or take the stream that is meant`,
    ...(swapped ? { brief: 'legs swapped' } : {}),
    label,
  };
}

/** `239.1.1.1 from 10.0.0.1`, or the one of the two that differs. */
export function joinWords({ group, source }: Join): string {
  return [...(group === undefined ? [] : [group]), ...(source === undefined ? [] : [`from ${source}`])].join(' ');
}

function label(name: string, note: Note): string {
  if ('joins' in note) return `${name}: joins ${joinWords(note.joins)}`;
  return 'sendsFrom' in note ? `${name}: sends from ${note.sendsFrom}` : `${name}: sends to ${note.sendsTo}`;
}

function onAir(swapped: boolean, otherLegLeft: boolean, nothing: string): string {
  if (swapped) return `each leg waits for the group of the other network: ${nothing} on this receiver at all`;
  if (otherLegLeft)
    return 'this leg gets nothing, or whatever else is sent there: with the other leg lost the stream is gone';
  return `the receiver gets nothing, or whatever else is sent there: ${nothing}, or the wrong one`;
}

function clash({ leg, joins, joinedSenders, sent }: WrongLeg): string {
  const whose = joinedSenders.length === 0 ? '' : ` (${listNames(joinedSenders)})`;
  const parts = [
    ...(joins.group === undefined ? [] : [`joins ${joins.group}${whose} instead of ${sent.group}`]),
    ...(joins.source === undefined ? [] : [`asks for source ${joins.source} instead of ${sent.source}`]),
  ];
  return `${leg === undefined ? '' : `leg ${leg} `}${listNames(parts)}`;
}

function wanted({ leg, joins, sent, group }: WrongLeg): string {
  const source = joins.source === undefined ? '' : ` from ${sent.source}`;
  return `${joins.group === undefined ? group : sent.group}${source}${leg === undefined ? '' : ` on leg ${leg}`}`;
}
