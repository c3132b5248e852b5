import {
  byLabel,
  clause,
  defineRule,
  legLabel,
  listNames,
  mark,
  nothingOf,
  otherPlaces,
  receiverClashes,
  receiverLegLabel,
} from '../../../src/lint/rule.js';

export default defineRule({
  id: 'receivers/port-differs',
  summary: 'A receiver listens on another UDP port than the stream is sent to',
  severity: 'error',
  sources: [clause('RFC 768', 'Fields'), clause('RFC 3550', '11')],
  needs: ['streamPorts', 'receiverPorts'],
  *check({ plan, model }) {
    for (const clash of receiverClashes(plan, model.reception, 'port')) {
      const { subject, stated } = clash;
      const legs = byLabel(clash.legs, receiverLegLabel);
      const heard = byLabel(clash.heard, legLabel);
      const [first, ...rest] = legs;
      if (first === undefined) continue;
      const names = [...new Set(legs.map((leg) => leg.receiver.label))];
      const senders = [...new Set(heard.map((leg) => leg.sender.label))];
      const sent = [...new Set(heard.map((leg) => leg.port))].join(' and ');
      const at = mark(first, `${receiverLegLabel(first)}: listens on port ${stated}`, 'port');
      yield {
        subject: `${subject} port ${stated}`,
        parties: [...senders, ...names],
        what:
          `${listNames(names)} ${names.length === 1 ? 'listens' : 'listen'} on UDP port ${stated}, ` +
          `but ${listNames(senders)} ${senders.length === 1 ? 'is' : 'are'} sent to port ${sent}`,
        at,
        others: otherPlaces(at, [
          ...rest.map((leg) => mark(leg, `${receiverLegLabel(leg)}: listens on port ${stated}`, 'port')),
          ...heard.map((leg) => mark(leg, `${legLabel(leg)}: port ${leg.port ?? ''}`, 'port')),
        ]),
        onAir: `the group arrives at the device, but no program listens on its port: ${nothingOf(heard.map((leg) => leg.sender))}, though the network shows the stream`,
        fix: `set the receiver to port ${sent}`,
        touch: { kind: 'device', name: first.receiver.device.name },
      };
    }
  },
});
