import {
  byLabel,
  clause,
  defineRule,
  formatAddress,
  groupBy,
  isLinkLocal,
  legLabel,
  listNames,
  mark,
  nothingOf,
  receiverLegLabel,
  touchOf,
  whyNoSource,
  type Leg,
  type ReceiverLeg,
} from '../../../src/lint/rule.js';

type User = Leg | ReceiverLeg;

export default defineRule({
  id: 'sources/not-unicast',
  summary: 'A stated source address is none that a host can send from',
  severity: 'error',
  sources: [
    clause('RFC 1112', '7.2'),
    clause('RFC 1112', '4'),
    clause('RFC 1122', '3.2.1.3'),
    clause('RFC 3927', '2.7'),
    clause('RFC 4291', '2.7'),
  ],
  needs: ['sources'],
  *check({ plan }) {
    const stated = [...plan.legs.filter(isWritten), ...plan.receiverLegs.filter((leg) => leg.source !== undefined)];
    const impossible = groupBy(stated, (leg) =>
      leg.source !== undefined && whyNoSource(leg.source, leg.vlan) !== undefined ? leg.source : undefined,
    );
    for (const [source, unordered] of impossible) {
      const legs = byLabel(unordered, labelOf);
      const [first, ...rest] = legs;
      const why = first === undefined ? undefined : whyNoSource(source, first.vlan);
      if (first === undefined || why === undefined) continue;
      const text = formatAddress(source);
      const names = legs.map(labelOf);
      const local = isLinkLocal(source);
      yield {
        subject: text,
        parties: names,
        severity: local ? 'warning' : 'error',
        what: `${listNames(names)} ${legs.length === 1 ? 'states' : 'state'} source ${text}, ${why}`,
        at: mark(first, `${labelOf(first)}: states this source`, 'source'),
        others: rest.map((leg) => mark(leg, `${labelOf(leg)}: states this source`, 'source')),
        onAir: local
          ? 'the stream stays in its VLAN, and the sender picks another such address when it likes: receivers that filter by source then lose it'
          : `receivers that filter by this source get nothing, and hosts throw packets from it away: ${nothingOf(legs.map((leg) => (isSenderLeg(leg) ? leg.sender : (leg.receiver.takes ?? { essence: undefined, format: leg.receiver.format }))))}`,
        fix: 'write the address of the interface the stream leaves by',
        touch: isSenderLeg(first) ? touchOf(first.sender) : { kind: 'device', name: first.receiver.device.name },
      };
    }
  },
});

/** What an interface has for an address is judged where it stands. */
function isWritten(leg: Leg): boolean {
  const { source, interface: via } = leg;
  return source !== undefined && source !== via?.address && source !== via?.address6;
}

function isSenderLeg(leg: User): leg is Leg {
  return 'sender' in leg;
}

function labelOf(leg: User): string {
  return isSenderLeg(leg) ? legLabel(leg) : receiverLegLabel(leg);
}
