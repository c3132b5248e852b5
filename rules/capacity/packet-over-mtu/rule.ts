import { peopleDecide, createEditList, likely } from '../../../src/doors/cures.js';
import {
  byLabel,
  clause,
  defineRule,
  formatTime,
  groupBy,
  inRig,
  isNonEmpty,
  legLabel,
  mapAll,
  mark,
  noted,
  otherPlaces,
  portLabel,
  type FindingDraft,
  type Leg,
  type Mark,
  type Model,
  type NonEmpty,
  type Port,
} from '../../../src/doors/rule.js';
import {
  channelsWithin,
  largePackets,
  narrowWays,
  payloadOf,
  STANDARD_RTP_PAYLOAD_OCTETS,
  udpWithin,
  type NarrowWay,
} from '../../../src/doors/capacity.js';
import { formatTitle, words, type Facts, type Note } from './words.js';

type Draft = FindingDraft<Facts, Note>;

export default defineRule<Facts, Note>({
  id: 'capacity/packet-over-mtu',
  summary: 'Packets of a stream are larger than its way takes',
  severity: 'error',
  sources: [
    clause('ST 2110-10', '6.3'),
    clause('ST 2110-10', '6.4'),
    clause('AES67-2018', '6.3'),
    clause('RFC 2923', '2.1'),
  ],
  needs: ['formats'],
  brief: 'packets too large for the path',
  explains: ['packet size'],
  *check({ plan, model: { network, rates } }) {
    const { overLimit, overMtu } = largePackets(plan, rates);
    const byFormat = groupBy(overLimit, (leg) => `${titleOf(leg)} ${leg.packetTimeNs ?? ''}${inRig(leg.sender.rig)}`);
    for (const legs of byFormat.values()) yield* limitFinding(byLabel(legs, legLabel), rates);
    const keyOf: Parameters<typeof narrowWays>[3] = (leg, { name, rig }) => `${titleOf(leg)} in ${name}${inRig(rig)}`;
    for (const way of byLabel(narrowWays(overMtu, network, rates, keyOf), ({ key }) => key)) yield* mtuFinding(way);
  },
  words,
});

/** More channels in a packet than it may hold. */
function* limitFinding(legs: NonEmpty<Leg>, rates: Model['rates']): Iterable<Draft> {
  const [first] = legs;
  const { format, rig } = first.sender;
  const rate = rates.of(first)?.rate;
  if (rate === undefined || format === undefined) return;
  const title = titleOf(first);
  const packetTimeNs = first.packetTimeNs ?? format.packetTimeNs ?? 0;
  const channels = format.channels ?? 0;
  const streams = streamsOf(legs);
  const at = noted(mark(format, `format ${title}`, 'channels'), { channels });
  const time = noted(mark(format, `format ${title}`, 'packetTime'), { packetTimeNs });
  yield {
    subject: `${title} in packets of ${formatTime(packetTimeNs)}${inRig(rig)}`,
    parties: streams,
    cure: () => {
      return peopleDecide('how sound is put into packets');
    },
    facts: {
      form: 'datagram',
      ...{ format: format.name, streams, channels, packetTimeNs },
      octets: payloadOf(rate.largestUdpOctets),
      mostOctets: STANDARD_RTP_PAYLOAD_OCTETS,
      mostChannels: channelsWithin(format, packetTimeNs),
    },
    at,
    others: otherPlaces<Note>(at, [
      ...(first.packetTimeNs === format.packetTimeNs ? [time] : []),
      ...legs.map((leg) => mark(leg, legLabel(leg), 'packetTime')),
    ]),
    touch: { kind: 'plan', name: `format ${title}` },
    sources: [clause('AES67-2018', '6.3'), clause('ST 2110-10', '6.3')],
  };
}

/** By format and by what is too small for it: a VLAN that states an MTU, else the ports on the way. */
function* mtuFinding({ key, vlan, ports: set, legs: unordered, ipOctets, computed }: NarrowWay): Iterable<Draft> {
  const legs = byLabel(unordered, legLabel);
  const [{ sender }] = legs;
  if (sender.format === undefined) return;
  const ports = byLabel([...set], portLabel);
  const [port] = ports;
  const takesOctets = port === undefined ? (vlan.mtu ?? 0) : Math.min(...ports.map(({ mtu }) => mtu ?? Infinity));
  const [at, ...others] = isNonEmpty(ports)
    ? mapAll(ports, portMark)
    : [noted(mark(vlan, `VLAN ${vlan.name}`, 'mtu'), { mtuOctets: takesOctets })];
  const streams = streamsOf(legs);
  const too = { format: sender.format.name, streams, ipOctets, takesOctets, mostUdpOctets: udpWithin(takesOctets) };
  yield {
    subject: key,
    parties: streams,
    // A size taken from common practice decides nothing for sure.
    severity: computed ? 'error' : 'warning',
    confidence: computed ? 'certain' : 'assumed',
    cure: () => {
      const edits = createEditList();
      for (const one of ports)
        edits.set(Object.hasOwn(one.origin.container, 'mtu') ? one : one.switch, 'mtu', ipOctets);
      if (ports.length === 0) edits.set(vlan, 'mtu', ipOctets);
      return likely(edits);
    },
    facts: isNonEmpty(ports) ? { form: 'ports', ...too, ports } : { form: 'vlan', ...too, vlan },
    at,
    others: otherPlaces<Note>(at, [
      ...others,
      mark(sender.format, `format ${formatTitle(sender.format.name, sender.label)}`, 'maxUdp'),
      ...legs.map((leg) => mark(leg, legLabel(leg), 'group')),
    ]),
    touch: port === undefined ? { kind: 'vlan', name: vlan.name } : { kind: 'switch', name: port.switch.name },
    sources: [clause('ST 2110-10', '6.3'), clause('ST 2110-10', '6.4'), clause('RFC 2923', '2.1')],
  };
}

/** At the port where it states its MTU itself, else at its switch. */
function portMark(port: Port): Mark<Note> {
  const where = Object.hasOwn(port.origin.container, 'mtu') ? port : port.switch;
  return noted(mark(where, portLabel(port), 'mtu'), { mtuOctets: port.mtu ?? 0 });
}

function titleOf({ sender }: Leg): string {
  return formatTitle(sender.format?.name, sender.label);
}

function streamsOf(legs: NonEmpty<Leg>): readonly string[] {
  return [...new Set(legs.map(({ sender }) => sender.label))];
}
