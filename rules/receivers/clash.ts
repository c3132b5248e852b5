/** What the rules on a number that receivers state and senders do not send have in common. */
import {
  byLabel,
  eachInput,
  legLabel,
  mapAll,
  mark,
  noted,
  otherPlaces,
  receiverLegLabel,
  type FindingDraft,
  type Receiver,
  type Sender,
} from '../../src/doors/rule.js';
import { certainly, createEditList, peopleDecide } from '../../src/doors/cures.js';
import { eachInputLeg, type ReceiverClash } from '../../src/doors/receivers.js';

export interface ClashFacts {
  /** UDP port or payload type the receivers state. */
  readonly stated: number;
  readonly sent: readonly number[];
  readonly receivers: readonly Receiver[];
  readonly senders: readonly Sender[];
}

export interface ClashNote {
  readonly side: 'receiver' | 'sender';
  readonly value: number | undefined;
}

/** `title` stands in the subject: `cam-1/video port 5006`. */
export function clashFinding(
  clash: ReceiverClash,
  key: 'port' | 'payloadType',
  title: string,
): FindingDraft<ClashFacts, ClashNote> {
  const { subject, stated } = clash;
  const legs = byLabel(eachInputLeg(clash.legs), receiverLegLabel);
  const heard = byLabel(clash.heard, legLabel);
  const receivers = eachInput([...new Set(legs.map(({ receiver }) => receiver))]);
  const senders = [...new Set(heard.map(({ sender }) => sender))];
  const [at, ...rest] = mapAll(legs, (leg) =>
    noted(mark(leg, receiverLegLabel(leg), key), { side: 'receiver', value: stated }),
  );
  const sent = heard.map((leg) => noted(mark(leg, legLabel(leg), key), { side: 'sender', value: leg[key] }));
  return {
    subject: `${subject} ${title} ${stated}`,
    parties: [...senders, ...receivers].map(({ label }) => label),
    cure: () => {
      const values = [...new Set(heard.flatMap((leg) => leg[key] ?? []))];
      const [value] = values;
      if (value === undefined || values.length > 1) return peopleDecide('which of the streams it is to be set to');
      const edits = createEditList();
      for (const leg of clash.legs) edits.setWhereWritten(leg, key, value);
      return certainly(edits);
    },
    facts: {
      stated,
      sent: [...new Set(heard.flatMap((leg) => leg[key] ?? []))],
      receivers,
      senders,
    },
    at,
    others: otherPlaces<ClashNote>(at, [...rest, ...sent]),
    touch: { kind: 'device', name: legs[0].receiver.device.name },
  };
}
