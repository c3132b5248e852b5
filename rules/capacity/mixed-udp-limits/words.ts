import {
  agree,
  legLabel,
  listNames,
  type FindingWords,
  type Leg,
  type NonEmpty,
  type Receiver,
  type Sender,
  type Vlan,
} from '../../../src/doors/rule.js';

export type Facts = ReceiversFacts | UnsaidFacts;

/** Receivers that expect smaller datagrams than they are sent. */
interface ReceiversFacts {
  readonly form: 'receivers';
  readonly receivers: NonEmpty<Receiver>;
  readonly senders: readonly Sender[];
  /** Largest datagram they expect, and are sent. */
  readonly limitOctets: number;
  readonly sentOctets: number;
}

/** Large packets where nothing states an MTU. */
interface UnsaidFacts {
  readonly form: 'unsaid';
  readonly vlan: Vlan;
  readonly legs: NonEmpty<Leg>;
  readonly ipOctets: number;
}

export type Note = { readonly octets: number; readonly stated: boolean } | 'no mtu';

export function words(facts: Facts): FindingWords<Note> {
  return { ...(facts.form === 'receivers' ? receiversWords(facts) : unsaidWords(facts)), label };
}

function label(name: string, note: Note): string {
  if (note === 'no mtu') return `${name}: no \`mtu\``;
  return `${name}: ${note.stated ? '' : 'nothing stated, so '}${note.octets}`;
}

function receiversWords({ receivers, senders, limitOctets, sentOctets }: ReceiversFacts): FindingWords {
  const names = receivers.map((one) => one.label);
  const sending = senders.map((one) => one.label);
  return {
    what:
      `${listNames(names, 4)} ${agree(names.length, 'expects', 'expect')} datagrams of up to ${limitOctets} octets, ` +
      `and ${listNames(sending, 4)} ${agree(sending.length, 'sends', 'send')} up to ${sentOctets}`,
    onAir: 'the receiver discards the large packets: no picture, though the stream reaches its port',
    fix: `state \`maxUdp: ${sentOctets}\` for the receivers if they can take it; else let the senders keep to ${limitOctets}`,
  };
}

function unsaidWords({ vlan, legs, ipOctets }: UnsaidFacts): FindingWords {
  return {
    what: `${listNames(legs.map(legLabel), 4)} ${agree(legs.length, 'sends', 'send')} IP packets of up to ${ipOctets} octets in VLAN ${vlan.name}, and neither it nor a port on the path states an MTU`,
    onAir:
      'where one port is left at 1500 octets these packets are dropped without a message: no picture behind it, while pings pass',
    fix: `set every port on the path to ${ipOctets} or more and state it as the VLAN's \`mtu\``,
  };
}
