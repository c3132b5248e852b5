import {
  agree,
  listNames,
  nothingOf,
  type FindingWords,
  type Format,
  type Receiver,
  type Sender,
} from '../../../src/doors/rule.js';
import { memberTitle } from '../../../src/doors/receivers.js';

export interface Facts {
  readonly receivers: readonly Receiver[];
  readonly senders: readonly Sender[];
  /** The format of the senders is the slip: all their receivers agree. */
  readonly ofSenders: boolean;
  /** Members of the format, with the values sent and expected. */
  readonly differences: readonly {
    readonly member: keyof Format;
    readonly sent: string;
    readonly expected: string;
  }[];
}

export interface Note {
  readonly side: 'expects' | 'sends';
  readonly value: string;
}

export function words({ receivers, senders, ofSenders, differences }: Facts): FindingWords<Note> {
  const values = differences.map(
    ({ member, sent, expected }) => `${memberTitle(member)}: sent ${sent}, expected ${expected}`,
  );
  const sent = differences.map((one) => one.sent).join(', ');
  const expected = differences.map((one) => one.expected).join(', ');
  const count = receivers.length;
  return {
    what:
      `${listNames(receivers.map((one) => one.label))} ${agree(count, 'takes', 'take')} ${listNames(senders.map((one) => one.label))} ` +
      `but ${agree(count, 'expects', 'expect')} another format (${values.join('; ')})`,
    onAir: onAir(differences, senders),
    fix: ofSenders
      ? `set the ${agree(senders.length, 'sender')} to ${expected}, which all the receivers expect, or the receivers to ${sent}`
      : `set the ${agree(count, 'receiver')} to ${sent}, or the ${agree(senders.length, 'sender')} to ${expected}`,
    label: (name, { side, value }) => `${name}: ${side} ${value}`,
  };
}

function onAir(differences: Facts['differences'], senders: readonly Sender[]): string {
  const lenient = differences.flatMap(({ member }) => LENIENT.get(member) ?? []);
  if (lenient.length === differences.length) return lenient.join('; ');
  const essences = new Set(senders.map(({ essence }) => essence));
  const wrong = WRONG[essences.size === 1 ? (senders[0]?.essence ?? 'any') : 'any'];
  return `the receiver refuses the stream or plays it wrong: ${nothingOf(senders)}, ${wrong}`;
}

const WRONG = {
  video: 'or a broken raster',
  audio: 'or sound at the wrong speed or level',
  data: 'or data read as something else',
  any: 'a broken raster, or sound at the wrong speed',
} as const;

/** Differences that many receivers live with, and what happens on the others. */
const LENIENT: ReadonlyMap<keyof Format, string> = new Map([
  ['channels', 'the channels that are not sent stay silent, or the receiver refuses the stream'],
  ['packetTimeNs', 'receivers with a fixed packet time refuse the stream or click, those that adapt play it'],
]);
