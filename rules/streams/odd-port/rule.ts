import {
  byLabel,
  clause,
  defineRule,
  legLabel,
  listNames,
  mark,
  touchOfCause,
  writtenOnce,
  type Leg,
} from '../../../src/lint/rule.js';

export default defineRule({
  id: 'streams/odd-port',
  summary: 'A stream is sent to an odd UDP port',
  severity: 'warning',
  sources: [clause('RFC 3550', '11')],
  needs: ['streamPorts'],
  *check({ model }) {
    for (const cause of writtenOnce(model.unusualNumbers.oddPort, 'port')) {
      const legs = byLabel(cause.legs, legLabel);
      const [first, ...rest] = legs;
      const senders = byLabel(cause.senders, ({ label }) => label);
      const [sender] = senders;
      if (first === undefined || sender === undefined) continue;
      const names = senders.map(({ label }) => label);
      const ports = [...new Set(legs.flatMap(({ port }) => port ?? []))].sort((a, b) => a - b);
      const label = (leg: Leg): string =>
        `${cause.kind === undefined ? legLabel(leg) : `${cause.subject} leg ${leg.index + 1}`}: port ${leg.port ?? ''}`;
      yield {
        subject: cause.subject,
        parties: names,
        what:
          `${listNames(names)} ${names.length === 1 ? 'is' : 'are'} sent to UDP port ${listNames(ports.map(String))}: ` +
          `odd ports are for the control packets (RTCP) of the port below`,
        at: mark(first, label(first), 'port'),
        others: rest.map((leg) => mark(leg, label(leg), 'port')),
        onAir:
          'some receivers round an odd port down and listen one port too low: the stream plays on one make and not on another',
        fix: `use an even port, ${listNames(ports.map((port) => `${port - 1}`))} for example, and set the receivers likewise`,
        touch: touchOfCause(cause.kind, sender),
      };
    }
  },
});
