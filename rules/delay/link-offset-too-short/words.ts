import { formatTime, listNames, type FindingWords, type Receiver, type Sender } from '../../../src/doors/rule.js';
import { LEAST_BUFFER_PACKETS } from '../../../src/doors/delay.js';

export interface Facts {
  /** `arrival`: packets are later than the offset. `buffer`: it holds too few of them. */
  readonly form: 'arrival' | 'buffer';
  readonly offsetNs: number;
  readonly receivers: readonly Receiver[];
  /** The stream that needs the longest offset. */
  readonly worst: { readonly sender: Sender; readonly needNs: number; readonly packetNs: number };
  /** An offset that does for all of them. */
  readonly enoughNs: number;
}

export type Note = 'offset' | 'stream';

export function words({ form, offsetNs, receivers, worst, enoughNs }: Facts): FindingWords<Note> {
  const late = form === 'arrival';
  const offset = formatTime(offsetNs);
  const names = listNames(receivers.map(({ label }) => label));
  return {
    what: late
      ? `the link offset of ${offset} is over before sound arrives at ${names}: ${worst.sender.label} needs ${formatTime(worst.needNs)} for its packets and its way`
      : `the link offset of ${offset} holds fewer than ${LEAST_BUFFER_PACKETS} packets of sound at ${names}: ${worst.sender.label} sends packets of ${formatTime(worst.packetNs)}`,
    onAir: late
      ? 'these inputs play nothing or crackle all the time: every packet comes after its moment'
      : 'these inputs click whenever packets bunch up, which a busy switch or sender makes them do',
    fix: `set the link offset to ${formatTime(enoughNs)} or more, or give the inputs concerned a buffer of their own (\`delay\`)`,
    label: (name, note) =>
      note === 'offset' ? `${name} ${offset}` : `${name}: ${late ? 'arrives too late' : 'its packets are too long'}`,
  };
}
