import {
  byLabel,
  clause,
  defineRule,
  formatTime,
  legLabel,
  listNames,
  mark,
  nothingOf,
  packetTimesDiffer,
  touchOfCause,
  writtenOnce,
  type Leg,
  type UnusualNumbers,
} from '../../../src/lint/rule.js';

export default defineRule({
  id: 'streams/legs-differ',
  summary: 'The two legs of a stream are not copies of one another',
  severity: 'error',
  sources: [clause('ST 2110-10', '8.5'), clause('RFC 7198', '4')],
  needs: ['pairs'],
  *check({ model }) {
    for (const fact of FACTS) {
      for (const cause of writtenOnce(fact.unlike(model.unusualNumbers), fact.key)) {
        const senders = byLabel(cause.senders, ({ label }) => label);
        const [sender] = senders;
        const [one, ...others] = sender?.legs ?? [];
        const wrong = others.filter((leg) => one !== undefined && fact.differ(one, leg));
        const [first, ...rest] = wrong;
        if (sender === undefined || one === undefined || first === undefined) continue;
        const names = senders.map((one) => one.label);
        const label = (leg: Leg): string =>
          cause.kind === undefined ? legLabel(leg) : `${cause.subject} leg ${leg.index + 1}`;
        yield {
          subject: `${cause.subject} ${fact.title}`,
          parties: names,
          what: `the legs of ${listNames(names)} have different ${fact.title}s: ${[one, ...wrong].map((leg) => `leg ${leg.index + 1} ${fact.show(leg)}`).join(', ')}`,
          at: mark(first, `${label(first)}: ${fact.title} ${fact.show(first)}`, fact.key),
          others: [...rest, one].map((leg) => mark(leg, `${label(leg)}: ${fact.title} ${fact.show(leg)}`, fact.key)),
          onAir: `receivers cannot merge the two paths into one stream: they use one path only, and when that one fails there is ${nothingOf(senders)}`,
          fix: `set leg ${first.index + 1} to ${fact.title} ${fact.show(one)}, and its receivers likewise`,
          touch: touchOfCause(cause.kind, sender),
        };
      }
    }
  },
});

interface LegFact {
  readonly key: string;
  readonly title: string;
  readonly show: (leg: Leg) => string;
  readonly unlike: (numbers: UnusualNumbers) => readonly Leg[];
  readonly differ: (a: Leg, b: Leg) => boolean;
}

const FACTS: readonly LegFact[] = [
  {
    key: 'payloadType',
    title: 'payload type',
    show: ({ payloadType }) => String(payloadType ?? ''),
    unlike: (numbers) => numbers.unlikePayloadType,
    differ: (a, b) => a.payloadType !== undefined && b.payloadType !== undefined && a.payloadType !== b.payloadType,
  },
  {
    key: 'packetTime',
    title: 'packet time',
    show: ({ packetTimeNs }) => (packetTimeNs === undefined ? '' : formatTime(packetTimeNs)),
    unlike: (numbers) => numbers.unlikePacketTime,
    differ: (a, b) => packetTimesDiffer(a.packetTimeNs, b.packetTimeNs),
  },
];
