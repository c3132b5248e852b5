import {
  byLabel,
  channelsThatFit,
  clause,
  defineRule,
  formatTime,
  groupBy,
  inRig,
  legLabel,
  listNames,
  mark,
  otherPlaces,
  portLabel,
  portRanges,
  portsOnWay,
  STANDARD_RTP_PAYLOAD_OCTETS,
  STANDARD_UDP_OCTETS,
  type WordedDraft,
  type Format,
  type Leg,
  type Mark,
  type Model,
  type Plan,
  type Port,
  type Vlan,
} from '../../../src/lint/rule.js';

export default defineRule({
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
  *check({ plan, model }) {
    const tooLarge: Leg[] = [];
    const large: Leg[] = [];
    const smallest = smallestMtu(plan);
    for (const leg of plan.legs) {
      const rate = model.rates.of(leg)?.rate;
      if (rate === undefined) continue;
      if (rate.udpLimitOctets !== undefined && rate.largestUdpOctets > rate.udpLimitOctets) tooLarge.push(leg);
      else if (rate.largestIpOctets > smallest) large.push(leg);
    }
    for (const legs of groupBy(
      tooLarge,
      (leg) => `${formatName(leg)} ${leg.packetTimeNs ?? ''}${inRig(leg.sender.rig)}`,
    ).values())
      yield* limitFinding(legs, model);
    if (large.length > 0) yield* mtuFindings(large, model);
  },
});

/** Nothing of the plan takes less; no packet up to here needs a second look. */
function smallestMtu({ vlans, switches }: Plan): number {
  let least = Infinity;
  for (const { mtu } of vlans) if (mtu !== undefined && mtu < least) least = mtu;
  for (const one of switches)
    for (const { mtu } of one.ports.values()) if (mtu !== undefined && mtu < least) least = mtu;
  return least;
}

function* limitFinding(legs: readonly Leg[], model: Model): Iterable<WordedDraft> {
  const sorted = byLabel(legs, legLabel);
  const [first] = sorted;
  const rate = first === undefined ? undefined : model.rates.of(first)?.rate;
  const format = first?.sender.format;
  if (first === undefined || rate === undefined || format === undefined) return;
  const timeNs = first.packetTimeNs ?? format.packetTimeNs ?? 0;
  const samples = Math.round((timeNs * (format.sampleRateHz ?? 0)) / 1e9);
  const most = samples > 0 ? channelsThatFit(format, samples) : 0;
  const at = mark(format, `format ${formatName(first)}: ${format.channels ?? 0} channels`, 'channels');
  yield {
    subject: `${formatName(first)} in packets of ${formatTime(timeNs)}${inRig(first.sender.rig)}`,
    parties: [...new Set(sorted.map(({ sender }) => sender.label))],
    what: `${formatName(first)} puts ${format.channels ?? 0} channels of ${formatTime(timeNs)} into packets of ${rate.largestUdpOctets - UDP_AND_RTP_OCTETS} octets of sound, ${STANDARD_RTP_PAYLOAD_OCTETS} at most; ${streamsWords(sorted)}`,
    at,
    others: otherPlaces(at, [
      ...(first.packetTimeNs === format.packetTimeNs
        ? [mark(format, `format ${formatName(first)}: ${formatTime(timeNs)}`, 'packetTime')]
        : []),
      ...sorted.map((leg) => mark(leg, legLabel(leg), 'packetTime')),
    ]),
    onAir:
      'the sender refuses the setting or sends shorter packets than its description says: receivers refuse the stream, or play it with clicks',
    fix:
      most > 0
        ? `send ${most} channels at most in packets of ${formatTime(timeNs)}, or shorter packets`
        : 'send shorter packets',
    touch: { kind: 'plan', name: `format ${formatName(first)}` },
    sources: [clause('AES67-2018', '6.3'), clause('ST 2110-10', '6.3')],
  };
}

/** RFC 791 §3.1. */
const IP_HEADER_OCTETS = 20;
/** UDP and RTP headers. */
const UDP_AND_RTP_OCTETS = STANDARD_UDP_OCTETS - STANDARD_RTP_PAYLOAD_OCTETS;

/** By format and by what is too small for it: a VLAN that states an MTU, else the ports on the way. */
function* mtuFindings(large: readonly Leg[], model: Model): Iterable<WordedDraft> {
  const found = new Map<
    string,
    { readonly vlan: Vlan; readonly legs: Set<Leg>; readonly ports: Set<Port>; octets: number }
  >();
  const add = (leg: Leg, vlan: Vlan, octets: number, ports: readonly Port[]): void => {
    const key = `${formatName(leg)} in ${vlan.name}${inRig(vlan.rig)}`;
    let one = found.get(key);
    if (one === undefined) found.set(key, (one = { vlan, legs: new Set(), ports: new Set(), octets: 0 }));
    one.legs.add(leg);
    one.octets = Math.max(one.octets, octets);
    for (const port of ports) one.ports.add(port);
  };
  for (const leg of large) {
    const octets = model.rates.of(leg)?.rate?.largestIpOctets ?? 0;
    if (leg.vlan?.mtu !== undefined && leg.vlan.mtu < octets) add(leg, leg.vlan, octets, []);
    for (const flow of model.network.flowsOf(leg)) {
      const stated = flow.forwarding.segment.domain.vlans.filter((vlan) => vlan.mtu !== undefined);
      const small = stated.find((vlan) => (vlan.mtu ?? 0) < octets);
      const [vlan] = flow.forwarding.segment.domain.vlans;
      if (small !== undefined)
        add(
          leg,
          leg.vlan?.mtu !== undefined && leg.vlan.mtu < octets && flow.through === undefined ? leg.vlan : small,
          octets,
          [],
        );
      // Ports below what the VLAN promises: links/mtu-differs.
      if (stated.length > 0 || vlan === undefined) continue;
      const ports = [...portsOnWay(flow)].filter((port) => port.mtu !== undefined && port.mtu < octets);
      if (ports.length > 0) add(leg, vlan, octets, ports);
    }
  }
  for (const [subject, { vlan, legs, ports, octets }] of byLabel([...found], ([key]) => key)) {
    const sorted = byLabel([...legs], legLabel);
    const [first] = sorted;
    if (first?.sender.format === undefined) continue;
    const places = placesOf(vlan, ports);
    const [at = mark(vlan, `VLAN ${vlan.name}`, 'mtu'), ...others] = places.marks;
    yield {
      subject,
      parties: [...new Set(sorted.map(({ sender }) => sender.label))],
      // A size taken from common practice decides nothing for sure.
      severity: sorted.some((leg) => model.rates.of(leg)?.rate?.basis === 'computed') ? 'error' : 'warning',
      what: `${formatName(first)} sends IP packets of up to ${octets} octets, and ${places.words}; ${streamsWords(sorted)}`,
      at,
      others: otherPlaces(at, [
        ...others,
        mark(first.sender.format, `format ${formatName(first)}`, 'maxUdp'),
        ...sorted.map((leg) => mark(leg, legLabel(leg), 'group')),
      ]),
      onAir:
        'switches drop what is too large without a message, and senders must not break it up: no picture at all, while pings and small streams pass',
      fix: `raise the MTU to ${octets} or more on every port on the way and in the plan, or let the format keep to ${Math.min(STANDARD_UDP_OCTETS, places.least - IP_HEADER_OCTETS)} octets of UDP`,
      touch:
        ports.size === 0
          ? { kind: 'vlan', name: vlan.name }
          : { kind: 'switch', name: byLabel([...ports], portLabel)[0]?.switch.name ?? '' },
      sources: [clause('ST 2110-10', '6.3'), clause('ST 2110-10', '6.4'), clause('RFC 2923', '2.1')],
    };
  }
}

function placesOf(
  vlan: Vlan,
  ports: ReadonlySet<Port>,
): { readonly words: string; readonly least: number; readonly marks: readonly Mark[] } {
  if (ports.size === 0)
    return {
      words: `VLAN ${vlan.name} takes ${vlan.mtu ?? 0}`,
      least: vlan.mtu ?? 0,
      marks: [mark(vlan, `VLAN ${vlan.name}: MTU ${vlan.mtu ?? 0}`, 'mtu')],
    };
  const sorted = byLabel([...ports], portLabel);
  const least = Math.min(...sorted.map((port) => port.mtu ?? Infinity));
  const names = [...groupBy(sorted, (port) => port.switch)].map(
    ([one, own]) => `${one.name} (${portRanges(own.map((port) => port.name))})`,
  );
  return {
    words: `ports on the way take less, down to ${least}: ${listNames(names)}`,
    least,
    marks: sorted.map((port) =>
      mark(
        Object.hasOwn(port.origin.container, 'mtu') ? port : port.switch,
        `${portLabel(port)}: MTU ${port.mtu ?? 0}`,
        'mtu',
      ),
    ),
  };
}

function formatName({ sender }: Leg): string {
  const format: Format | undefined = sender.format;
  return format?.name ?? `the format of ${sender.label}`;
}

function streamsWords(legs: readonly Leg[]): string {
  const names = byLabel([...new Set(legs.map(({ sender }) => sender.label))], (name) => name);
  return `${listNames(names, 4)} ${names.length === 1 ? 'is' : 'are'} sent so`;
}
