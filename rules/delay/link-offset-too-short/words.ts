import {
  formatTime,
  LEAST_BUFFER_PACKETS,
  listNames,
  type FindingWords,
  type Receiver,
  type Sender,
} from '../../../src/lint/rule.js';

export interface Facts {
  /** Packets come after the offset; else it holds too few of them. */
  readonly late: boolean;
  readonly offsetNs: number;
  readonly receivers: readonly Receiver[];
  /** The stream that needs most. */
  readonly worst: { readonly sender: Sender; readonly needNs: number; readonly packetNs: number };
  readonly enoughNs: number;
}

export function words({ late, offsetNs, receivers, worst, enoughNs }: Facts): FindingWords<boolean> {
  const offset = formatTime(offsetNs);
  const names = listNames(receivers.map((receiver) => receiver.label));
  const { sender, needNs, packetNs } = worst;
  return {
    what: late
      ? `the link offset of ${offset} is over before sound arrives at ${names}: ${sender.label} needs ${formatTime(needNs)} for its packets and its way`
      : `the link offset of ${offset} holds fewer than ${LEAST_BUFFER_PACKETS} packets of sound at ${names}: ${sender.label} sends packets of ${formatTime(packetNs)}`,
    onAir: late
      ? 'these inputs play nothing or crackle all the time: every packet comes after its moment'
      : 'these inputs click whenever packets bunch up, which a busy switch or sender makes them do',
    fix: `set the link offset to ${formatTime(enoughNs)} or more, or give the inputs concerned a buffer of their own (\`delay\`)`,
    label: (name, tooLate) => `${name}: ${tooLate ? 'arrives too late' : 'its packets are too long'}`,
  };
}
