import { listNames, nothingOf, type FindingWords, type Sender } from '../../../src/doors/rule.js';

export type LegFact = 'payloadType' | 'packetTime';

export interface Facts {
  readonly fact: LegFact;
  readonly senders: readonly Sender[];
  /** Legs from 1, the first one and those unlike it. */
  readonly values: readonly { readonly leg: number; readonly value: string }[];
  /** The leg to change first, and to what. */
  readonly set: { readonly leg: number; readonly value: string };
}

export function words({ fact, senders, values, set }: Facts): FindingWords<{
  readonly fact: LegFact;
  readonly value: string;
}> {
  const title = TITLES[fact];
  return {
    what: `the legs of ${listNames(senders.map((sender) => sender.label))} have different ${title}s: ${values.map(({ leg, value }) => `leg ${leg} ${value}`).join(', ')}`,
    onAir: `receivers cannot merge the two legs into one stream: they use one leg only, and when that one fails there is ${nothingOf(senders)}`,
    fix: `set leg ${set.leg} to ${title} ${set.value}, and its receivers likewise`,
    label: (name, note) => `${name}: ${TITLES[note.fact]} ${note.value}`,
  };
}

const TITLES: Readonly<Record<LegFact, string>> = { payloadType: 'payload type', packetTime: 'packet time' };
