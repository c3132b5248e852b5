import {
  byLabel, clause, defineRule, formatTime, legLabel, listNames, mark, packetTimesDiffer, touchOf, writtenOnce, type Leg,
} from '../../../src/lint/rule.js';

export default defineRule({
  id: 'streams/legs-differ',
  summary: 'The two legs of a stream are not copies of one another',
  severity: 'error',
  sources: [clause('ST 2110-10', '8.5'), clause('RFC 7198', '4')],
  needs: ['pairs'],
  *check({ plan }) {
    for (const fact of FACTS) {
      const unlike: Leg[] = [];
      for (const { legs } of plan.senders) {
        const [one] = legs;
        if (one === undefined || legs.length < 2) continue;
        for (const leg of legs) if (fact.differ(one, leg)) unlike.push(leg);
      }
      for (const cause of writtenOnce(unlike, fact.key)) {
        const senders = byLabel(cause.senders, ({ label }) => label);
        const [sender] = senders;
        const [one, ...others] = sender?.legs ?? [];
        const wrong = others.filter((leg) => one !== undefined && fact.differ(one, leg));
        const [first, ...rest] = wrong;
        if (sender === undefined || one === undefined || first === undefined) continue;
        const names = senders.map(({ label }) => label);
        yield {
          subject: `${cause.subject} ${fact.title}`,
          parties: names,
          what: `the legs of ${listNames(names)} have different ${fact.title}s: ${[one, ...wrong].map((leg) => `leg ${leg.index + 1} ${fact.show(leg)}`).join(', ')}`,
          at: mark(first, `${legLabel(first)}: ${fact.title} ${fact.show(first)}`, fact.key),
          others: [...rest, one].map((leg) => mark(leg, `${legLabel(leg)}: ${fact.title} ${fact.show(leg)}`, fact.key)),
          onAir: 'receivers cannot merge the two paths into one stream: they use one path only, and when that one fails picture or sound breaks',
          fix: `set leg ${first.index + 1} to ${fact.title} ${fact.show(one)}, and its receivers likewise`,
          touch: touchOf(sender),
        };
      }
    }
  },
});

interface LegFact {
  readonly key: string;
  readonly title: string;
  readonly show: (leg: Leg) => string;
  readonly differ: (a: Leg, b: Leg) => boolean;
}

const FACTS: readonly LegFact[] = [
  {
    key: 'payloadType',
    title: 'payload type',
    show: ({ payloadType }) => String(payloadType ?? ''),
    differ: (a, b) => a.payloadType !== undefined && b.payloadType !== undefined && a.payloadType !== b.payloadType,
  },
  {
    key: 'packetTime',
    title: 'packet time',
    show: ({ packetTimeNs }) => (packetTimeNs === undefined ? '' : formatTime(packetTimeNs)),
    differ: (a, b) => packetTimesDiffer(a.packetTimeNs, b.packetTimeNs),
  },
];
