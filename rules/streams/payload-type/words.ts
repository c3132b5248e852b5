import { agree, listNames, nothingOf, type FindingWords, type Sender } from '../../../src/doors/rule.js';
import type { Coding } from '../../../src/doors/streams.js';

export interface Facts {
  readonly senders: readonly Sender[];
  readonly payloadType: number;
  /** It looks like a control packet. */
  readonly control: boolean;
  readonly coding: Coding | undefined;
}

/** Places are noted with the payload type. */
export function words({ senders, payloadType, control, coding }: Facts): FindingWords<number> {
  const meaning = control
    ? 'which looks like a control packet (RTCP) to receivers'
    : `${MEANINGS.get(payloadType) ?? 'which is not one of the free types'}; ${coding ?? 'its format'} has to use one from 96 to 127`;
  return {
    what: `${listNames(senders.map((sender) => sender.label))} ${agree(senders.length, 'uses', 'use')} payload type ${payloadType}, ${meaning}`,
    onAir: control
      ? `receivers that check for control packets discard the stream: ${nothingOf(senders)} there, while others play it`
      : 'some receivers take the number at its fixed meaning and refuse or misread the stream, others play it',
    fix: 'set a payload type from 96 to 127, and the same at its receivers',
    label: (name, type) => `${name}: payload type ${type}`,
  };
}

/** RFC 3551 §6, tables 4 and 5. */
const MEANINGS: ReadonlyMap<number, string> = new Map([
  [10, 'which stands for stereo L16 at 44.1 kHz'],
  [11, 'which stands for mono L16 at 44.1 kHz'],
  [26, 'which stands for JPEG'],
  [33, 'which stands for an MPEG-2 transport stream'],
]);
