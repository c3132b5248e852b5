import { agree, listNames, type FindingWords, type Kind, type Sender } from '../../../src/doors/rule.js';

interface PairFacts {
  readonly form: 'pair';
  /** Streams that leave from this pair of addresses. */
  readonly senders: readonly Sender[];
  readonly first: string;
  readonly second: string;
  /** What the conventions want beside the first; absent where the first is in none of its blocks. */
  readonly wanted: string | undefined;
  /** What the second belongs to. */
  readonly wantedFirst: string | undefined;
  /** Who has the address to give already. */
  readonly takenBy: string | undefined;
}

interface KindFacts {
  readonly form: 'kind';
  readonly kind: Kind;
  readonly streams: readonly { readonly name: string; readonly interfaces: readonly string[] }[];
  readonly devices: readonly string[];
  /** One of the streams, with its addresses. */
  readonly sender: Sender;
  readonly first: string;
  readonly second: string;
}

/** No stream keeps an entry of the map, and all agree on another block. */
interface EntryFacts {
  readonly form: 'entry';
  readonly senders: readonly Sender[];
  readonly first: string;
  readonly second: string;
  /** The block that none of them keeps, and what it is to be. */
  readonly side: 'first' | 'second';
  readonly should: string;
}

export type Facts = PairFacts | KindFacts | EntryFacts;

export type Note =
  | { readonly leaves: string }
  | { readonly maps: string }
  | { readonly stream: string; readonly leg: number; readonly interface: string };

export function words(facts: Facts): FindingWords<Note> {
  switch (facts.form) {
    case 'pair':
      return { ...pairWords(facts), label };
    case 'kind':
      return { ...kindWords(facts), label };
    case 'entry':
      return { ...entryWords(facts), label };
  }
}

function entryWords({ senders, first, second, side, should }: EntryFacts): FindingWords {
  const block = side === 'first' ? first : second;
  const streams = listNames(senders.map(({ label: name }) => name));
  return {
    what: `the conventions map ${first} to ${second}, but ${side} legs of all ${senders.length} streams ${side === 'second' ? 'from there' : 'that go there'} leave from ${should}: ${streams}`,
    onAir:
      'nothing while all is well; whoever works out one address from the other in a hurry takes one that nobody has, and a path stays dark',
    fix: `write ${should} as the \`${side}\` of that entry, or give the ${side} legs addresses in ${block}`,
    brief: `no stream keeps ${block} of the map`,
  };
}

function pairWords({ senders, first, second, wanted, wantedFirst, takenBy }: PairFacts): FindingWords {
  const whose = wantedFirst === undefined ? '' : ` (${second} belongs to ${wantedFirst})`;
  return {
    what: `${listNames(senders.map(({ label: name }) => name))} ${agree(senders.length, 'leaves', 'leave')} from ${first} and ${second}, but ${
      wanted === undefined
        ? `${first} is in none of the conventions' blocks for first legs${whose}`
        : `the conventions want ${wanted} beside ${first}`
    }`,
    onAir:
      'nothing while all is well; whoever works out the second address from the first in a hurry takes another one, and the second leg stays dark',
    fix:
      wanted === undefined
        ? give('first', wantedFirst, takenBy)
        : `${give('second', wanted, takenBy)}, or change the conventions' \`legMap\``,
  };
}

/** An address somebody else has is no advice. */
function give(leg: string, address: string | undefined, takenBy: string | undefined): string {
  if (address === undefined) return `give the ${leg} leg an address of the conventions' blocks`;
  return takenBy === undefined
    ? `give the ${leg} leg ${address}`
    : `give both legs addresses that fit the map, for ${address} is ${takenBy}'s`;
}

function kindWords({ kind, streams, devices, sender, first, second }: KindFacts): FindingWords {
  const sends = streams.map(({ name, interfaces }) => `${name} from interfaces ${interfaces.join(' and ')}`);
  return {
    what: `kind ${kind.name} sends ${listNames(sends, 3)}, so ${listNames(devices, 4)} leave from addresses the conventions do not pair: ${sender.label} from ${first} and ${second}`,
    onAir: 'the two legs leave on networks that are no pair, or both on one: when that one fails, both are lost',
    fix: 'correct the `interface` of the legs, once in the kind: the first leg on the network of first legs, the second on the other',
  };
}

function label(name: string, note: Note): string {
  if ('maps' in note) return `${name}: ${note.maps}`;
  return 'leaves' in note
    ? `${name}: leaves from ${note.leaves}`
    : `${name}: ${note.stream} leg ${note.leg} on interface ${note.interface}`;
}
