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
  id: 'receivers/payload-type-differs',
  summary: 'A receiver expects another RTP payload type than the stream is sent with',
  severity: 'error',
  sources: [clause('RFC 3550', '5.1'), clause('RFC 3551', '3')],
  needs: ['payloadTypes', 'receiverPayloadTypes'],
  *check({ plan, model }) {
    for (const clash of receiverClashes(plan, model.reception, 'payloadType')) {
      const { subject, stated } = clash;
      const legs = byLabel(clash.legs, receiverLegLabel);
      const heard = byLabel(clash.heard, legLabel);
      const [first, ...rest] = legs;
      if (first === undefined) continue;
      const names = [...new Set(legs.map((leg) => leg.receiver.label))];
      const senders = [...new Set(heard.map((leg) => leg.sender.label))];
      const sent = [...new Set(heard.map((leg) => leg.payloadType))].join(' and ');
      const at = mark(first, `${receiverLegLabel(first)}: expects payload type ${stated}`, 'payloadType');
      yield {
        subject: `${subject} payload type ${stated}`,
        parties: [...senders, ...names],
        what:
          `${listNames(names)} ${names.length === 1 ? 'expects' : 'expect'} payload type ${stated}, ` +
          `but ${listNames(senders)} ${senders.length === 1 ? 'is' : 'are'} sent with payload type ${sent}`,
        at,
        others: otherPlaces(at, [
          ...rest.map((leg) => mark(leg, `${receiverLegLabel(leg)}: expects payload type ${stated}`, 'payloadType')),
          ...heard.map((leg) => mark(leg, `${legLabel(leg)}: payload type ${leg.payloadType ?? ''}`, 'payloadType')),
        ]),
        onAir: `the receiver gets the packets and throws every one away: ${nothingOf(heard.map((leg) => leg.sender))}, though the network shows the stream`,
        fix: `set the receiver to payload type ${sent}, or hand it the sender's description again`,
        touch: { kind: 'device', name: first.receiver.device.name },
      };
    }
  },
});
