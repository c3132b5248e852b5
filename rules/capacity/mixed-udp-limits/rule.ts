import {
  byLabel,
  clause,
  commonPractice,
  defineRule,
  groupBy,
  inRig,
  isExtended,
  legLabel,
  listNames,
  mark,
  otherPlaces,
  portsOnWay,
  STANDARD_UDP_OCTETS,
  type WordedDraft,
  type Format,
  type Leg,
  type Model,
  type Plan,
  type Receiver,
  type Sender,
  type Vlan,
} from '../../../src/lint/rule.js';

export default defineRule({
  id: 'capacity/mixed-udp-limits',
  summary: 'Not everything on the way of a stream is set for its large packets',
  severity: 'error',
  sources: [
    clause('ST 2110-10', '6.4'),
    clause('ST 2110-10', '8.6'),
    commonPractice('ports take 1500 octets until they are set for more'),
  ],
  needs: ['extendedPackets'],
  *check({ plan, model }) {
    yield* receiverFindings(plan);
    yield* unsaidFindings(plan, model);
  },
});

/** Receivers set to a format without the sender's size, by both formats. */
function* receiverFindings(plan: Plan): Iterable<WordedDraft> {
  const pairs = new Map<Format, Map<Format, Receiver[]>>();
  for (const receiver of plan.receivers) {
    const sent = receiver.takes?.format;
    const expected = receiver.format;
    if (sent === undefined || expected === undefined || sent === expected || !isExtended(sent)) continue;
    if ((expected.maxUdpOctets ?? STANDARD_UDP_OCTETS) >= (sent.maxUdpOctets ?? 0)) continue;
    // Another coding altogether: receivers/format-differs.
    if (expected.coding !== undefined && expected.coding !== sent.coding) continue;
    const bySent = pairs.get(sent) ?? new Map<Format, Receiver[]>();
    pairs.set(sent, bySent);
    const list = bySent.get(expected) ?? [];
    bySent.set(expected, list);
    list.push(receiver);
  }
  const all = [...pairs].flatMap(([sent, byExpected]) =>
    [...byExpected].map(([expected, receivers]) => ({
      sent,
      expected,
      receivers: byLabel(receivers, ({ label }) => label),
    })),
  );
  for (const { sent, expected, receivers } of byLabel(
    all,
    (one) => `${nameOf(one.sent)} ${nameOf(one.expected)} ${one.receivers[0]?.label ?? ''}`,
  )) {
    const [first] = receivers;
    if (first === undefined) continue;
    const senders = byLabel(
      [...new Set(receivers.flatMap(({ takes }): Sender[] => (takes === undefined ? [] : [takes])))],
      ({ label }) => label,
    );
    const limit = expected.maxUdpOctets ?? STANDARD_UDP_OCTETS;
    const at = mark(
      expected,
      `${nameOf(expected)}: ${expected.maxUdpOctets === undefined ? `nothing stated, so ${limit}` : limit}`,
      'maxUdp',
    );
    yield {
      subject: `${nameOf(sent)} taken as ${nameOf(expected)}${expected.name === undefined ? ` by ${first.label}` : ''}${inRig(first.rig)}`,
      parties: [...senders.map(({ label }) => label), ...receivers.map(({ label }) => label)],
      what:
        `${listNames(
          receivers.map(({ label }) => label),
          4,
        )} ${receivers.length === 1 ? 'expects' : 'expect'} datagrams of up to ${limit} octets, ` +
        `and ${listNames(
          senders.map(({ label }) => label),
          4,
        )} ${senders.length === 1 ? 'sends' : 'send'} up to ${sent.maxUdpOctets ?? 0}`,
      at,
      others: otherPlaces(at, [
        mark(sent, `${nameOf(sent)}: ${sent.maxUdpOctets ?? 0}`, 'maxUdp'),
        ...receivers.map((receiver) => mark(receiver, receiver.label, 'format')),
      ]),
      onAir: 'the receiver throws the large packets away: no picture, though the stream reaches its port',
      fix: `state \`maxUdp: ${sent.maxUdpOctets ?? 0}\` for the receivers if they can take it; else let the senders keep to ${limit}`,
      touch: { kind: 'device', name: first.device.name },
      sources: [clause('ST 2110-10', '6.4'), clause('ST 2110-10', '8.6')],
    };
  }
}

/** Large packets where neither the VLAN nor any port on the way states what it takes, by VLAN. */
function* unsaidFindings(plan: Plan, model: Model): Iterable<WordedDraft> {
  const large = plan.legs.filter((leg) => {
    const { format } = leg.sender;
    return (
      format !== undefined &&
      isExtended(format) &&
      leg.vlan !== undefined &&
      leg.vlan.mtu === undefined &&
      (model.rates.of(leg)?.rate?.largestUdpOctets ?? 0) > STANDARD_UDP_OCTETS
    );
  });
  const unsaid = large.filter((leg) => {
    const flows = model.network.flowsOf(leg);
    return flows.every(
      (flow) =>
        flow.forwarding.segment.domain.vlans.every((vlan) => vlan.mtu === undefined) &&
        [...portsOnWay(flow)].every((port) => port.mtu === undefined),
    );
  });
  for (const [vlan, legs] of byLabel([...groupBy(unsaid, (leg): Vlan | undefined => leg.vlan)], ([one]) => one.name)) {
    const sorted = byLabel(legs, legLabel);
    const octets = Math.max(...legs.map((leg) => model.rates.of(leg)?.rate?.largestIpOctets ?? 0));
    const names = sorted.map(legLabel);
    const at = mark(vlan, `VLAN ${vlan.name}: no \`mtu\``);
    yield {
      subject: `VLAN ${vlan.name}${inRig(vlan.rig)}`,
      parties: names,
      severity: 'warning',
      what: `${listNames(names, 4)} ${names.length === 1 ? 'sends' : 'send'} IP packets of up to ${octets} octets in VLAN ${vlan.name}, and neither it nor a port on the way states an MTU`,
      at,
      others: otherPlaces(
        at,
        sorted.flatMap((leg: Leg) =>
          leg.sender.format === undefined ? [] : [mark(leg.sender.format, nameOf(leg.sender.format), 'maxUdp')],
        ),
      ),
      onAir:
        'where one port is left at 1500 octets these packets are dropped without a message: no picture behind it, while pings pass',
      fix: `set every port on the way to ${octets} or more and state it as the VLAN's \`mtu\``,
      touch: { kind: 'vlan', name: vlan.name },
      sources: [clause('ST 2110-10', '6.4'), commonPractice('ports take 1500 octets until they are set for more')],
    };
  }
}

function nameOf(format: Format): string {
  return `format ${format.name ?? 'without a name'}`;
}
