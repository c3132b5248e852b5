import {
  agree,
  legLabel,
  listNames,
  receiverLegLabel,
  type FindingWords,
  type Leg,
  type NonEmpty,
  type ReceiverLeg,
} from '../../../src/doors/rule.js';

export interface Facts {
  readonly leg: Leg;
  readonly address: string;
  /** Who has the address. */
  readonly holder: string;
  readonly takers: NonEmpty<ReceiverLeg>;
  /** The address is one of another interface of the receiver's own box. */
  readonly sameBox: boolean;
  /** Receivers that take it and have the address. */
  readonly rightful: readonly ReceiverLeg[];
  /** The address of the only receiver. */
  readonly wanted: string | undefined;
}

export type Note = { readonly sentTo: string } | 'takes it';

export function words({ leg, address, holder, takers, sameBox, rightful, wanted }: Facts): FindingWords<Note> {
  const names = listNames(takers.map(receiverLegLabel));
  return {
    what: `${names} ${agree(takers.length, 'takes', 'take')} ${legLabel(leg)}, which is sent to ${address}, the address of ${holder}`,
    onAir: sameBox
      ? 'the stream comes to another interface than the one that waits for it: the input stays dark'
      : `the switches carry the stream to ${holder}, which may not know what to do with it: ${names} ${agree(takers.length, 'stays', 'stay')} dark`,
    fix: fixWords(leg, takers, rightful, wanted),
    label: (name, note) => (note === 'takes it' ? `${name}: takes it` : `${name}: sent to ${note.sentTo}`),
  };
}

function fixWords(
  leg: Leg,
  takers: NonEmpty<ReceiverLeg>,
  rightful: readonly ReceiverLeg[],
  wanted: string | undefined,
): string {
  if (wanted !== undefined) return `send ${legLabel(leg)} to ${wanted}, the address of the receiver`;
  if (takers.length + rightful.length > 1)
    return `one address is one receiver: send the stream to a multicast group, or send ${listNames(takers.map(receiverLegLabel))} a stream of ${agree(takers.length, 'its', 'their')} own`;
  return `send ${legLabel(leg)} to the address of the interface that receives it`;
}
