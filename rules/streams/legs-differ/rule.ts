import { createEditList, likely, writtenAt, setLegNumber } from '../../../src/doors/cures.js';
import {
  byLabel,
  clause,
  defineRule,
  formatTime,
  isNonEmpty,
  mapAll,
  mark,
  noted,
  type Leg,
  type NonEmpty,
  type Sender,
} from '../../../src/doors/rule.js';
import {
  causeLegLabel,
  misusesPayloadType,
  packetTimesDiffer,
  touchOfCause,
  writtenOnce,
  type UnusualNumbers,
} from '../../../src/doors/streams.js';
import { words, type Facts, type LegFact } from './words.js';

export default defineRule<Facts, { readonly fact: LegFact; readonly value: string }>({
  id: 'streams/legs-differ',
  summary: 'The two legs of a stream are not copies of one another',
  severity: 'error',
  sources: [clause('ST 2110-10', '8.5'), clause('RFC 7198', '4')],
  needs: ['pairs'],
  brief: 'legs are not copies',
  harm: 'exposes',
  *check({ model }) {
    for (const { fact, title, show, unlike, differ } of FACTS) {
      for (const cause of writtenOnce(unlike(model.unusualLegs), fact)) {
        const senders = byLabel(cause.senders, ({ label }) => label);
        const [sender] = senders;
        const one = leadOf(sender, fact);
        const wrong = sender.legs.filter((leg) => one !== undefined && differ(one, leg));
        if (one === undefined || !isNonEmpty(wrong)) continue;
        const [worst, ...more] = wrong;
        const places: NonEmpty<Leg> = [worst, ...more, one];
        const [at, ...rest] = mapAll(places, (leg) =>
          noted(mark(leg, causeLegLabel(cause, leg), fact), { fact, value: show(leg) }),
        );
        yield {
          subject: `${cause.subject} ${title}`,
          parties: senders.map(({ label }) => label),
          cure: () => {
            const edits = createEditList();
            for (const its of senders) {
              const lead = leadOf(its, fact);
              for (const leg of its.legs) {
                if (lead === undefined || !differ(lead, leg)) continue;
                if (fact === 'payloadType' && lead.payloadType !== undefined)
                  setLegNumber(model, edits, [leg], fact, lead.payloadType);
                if (fact === 'packetTime') edits.setWhereWritten(leg, fact, writtenAt(lead, fact) ?? show(lead));
              }
            }
            return likely(edits);
          },
          facts: {
            fact,
            senders,
            values: [one, ...wrong].map((leg) => ({ leg: leg.index + 1, value: show(leg) })),
            set: { leg: wrong[0].index + 1, value: show(one) },
          },
          at,
          others: rest,
          touch: touchOfCause(cause.kind, sender),
        };
      }
    }
  },
  words,
});

/** The leg that the others are to be copies of: the first, or the first whose payload type means nothing else. */
function leadOf({ legs }: Sender, fact: LegFact): Leg | undefined {
  const [first] = legs;
  return fact === 'payloadType'
    ? (legs.find((leg) => leg.payloadType !== undefined && !misusesPayloadType(leg)) ?? first)
    : first;
}

interface Compared {
  readonly fact: LegFact;
  /** In the subject. */
  readonly title: string;
  readonly show: (leg: Leg) => string;
  readonly unlike: (numbers: UnusualNumbers) => readonly Leg[];
  readonly differ: (a: Leg, b: Leg) => boolean;
}

const FACTS: readonly Compared[] = [
  {
    fact: 'payloadType',
    title: 'payload type',
    show: ({ payloadType }) => String(payloadType ?? ''),
    unlike: (numbers) => numbers.unlikePayloadType,
    differ: (a, b) => a.payloadType !== undefined && b.payloadType !== undefined && a.payloadType !== b.payloadType,
  },
  {
    fact: 'packetTime',
    title: 'packet time',
    show: ({ packetTimeNs }) => (packetTimeNs === undefined ? '' : formatTime(packetTimeNs)),
    unlike: (numbers) => numbers.unlikePacketTime,
    differ: (a, b) => packetTimesDiffer(a.packetTimeNs, b.packetTimeNs),
  },
];
