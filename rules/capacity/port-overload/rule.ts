import {
  arrivalsAt,
  byLabel,
  clause,
  commonPractice,
  defineRule,
  floodings,
  floodWords,
  formatRate,
  groupBy,
  legLabel,
  listNames,
  mark,
  otherPlaces,
  portLabel,
  portRanges,
  QUERIER_WANTED,
  rateWords,
  shareWords,
  snoopingWords,
  verbOf,
  type Arrivals,
  type Flooding,
  type WordedDraft,
  type FloodReason,
  type ForwardingSegment,
  type Interface,
  type Model,
  type Plan,
  type Port,
  type PortLoad,
} from '../../../src/lint/rule.js';

export default defineRule({
  id: 'capacity/port-overload',
  summary: 'A host sends or gets more than its port carries',
  severity: 'error',
  sources: [
    clause('RFC 4541', '2.1.2'),
    clause('ST 2110-21', '6.3'),
    commonPractice('media fills a port to no more than 80 or 90 %'),
  ],
  needs: ['formats', 'switchPorts', 'portRates'],
  thresholds: { percent: { default: 90, what: 'share of a port that streams may fill, in percent' } },
  *check({ plan, model, threshold }) {
    const percent = threshold('percent');
    if (model.headroom.portsHoldAll(percent)) return;
    const full = fullPorts(plan, model, percent);
    if (full.length === 0) return;
    const byFlood = full.filter((one) => one.flooded);
    const forwardingOf = new Map(
      model.network.forwardings.flatMap((forwarding) =>
        forwarding.segment.hostsAt.flat().map((host) => [host, forwarding] as const),
      ),
    );
    const floods =
      byFlood.length === 0
        ? new Map<ForwardingSegment, Flooding>()
        : floodings(model.network, ({ leg }) => model.rates.onWire(leg));
    for (const [forwarding, ports] of groupBy(byFlood, ({ host }) => forwardingOf.get(host))) {
      const [slowest, ...others] = byLabel(ports, ({ port }) => portLabel(port)).toSorted(
        (a, b) => a.rateBps - b.rateBps,
      );
      if (slowest !== undefined) yield floodFinding(forwarding, [slowest, ...others], floods.get(forwarding));
    }
    const alone = byLabel(
      full.filter((one) => !one.flooded),
      ({ host }) => hostLabel(host),
    );
    const taking = new Set(alone.filter((one) => one.way === 'toHost').map(({ host }) => host));
    const arrivals = arrivalsAt(model.network, ({ leg }) => model.rates.onWire(leg), taking);
    for (const one of alone)
      yield one.way === 'toHost'
        ? takerFinding(one, arrivals.get(one.host), percent)
        : senderFinding(one, model, percent);
  },
});

interface FullPort {
  readonly port: Port;
  readonly host: Interface;
  readonly rateBps: number;
  readonly load: PortLoad;
  readonly way: 'toHost' | 'fromHost';
  /** Without what nobody asked for it would have room. */
  readonly flooded: boolean;
}

function fullPorts({ interfaces }: Plan, { load }: Model, percent: number): readonly FullPort[] {
  const seen = new Set<Port>();
  return interfaces.flatMap((host): FullPort[] => {
    const { port } = host;
    const carried = port === undefined || seen.has(port) ? undefined : load.ports.get(port);
    const rateBps = Math.min(port?.rateBps ?? Infinity, host.rateBps ?? Infinity);
    if (port === undefined || carried === undefined || rateBps === Infinity) return [];
    seen.add(port);
    const limit = (rateBps * percent) / 100;
    const found: FullPort[] = [];
    if (carried.toHost > limit)
      found.push({
        port,
        host,
        rateBps,
        load: carried,
        way: 'toHost',
        flooded: carried.toHost - carried.flooded <= limit,
      });
    if (carried.fromHost > limit) found.push({ port, host, rateBps, load: carried, way: 'fromHost', flooded: false });
    return found;
  });
}

function floodFinding(
  forwarding: ForwardingSegment,
  ports: readonly [FullPort, ...FullPort[]],
  flooding: Flooding | undefined,
): WordedDraft {
  const [slowest] = ports;
  const first = mark(slowest.port, `${portLabel(slowest.port)}: ${formatRate(slowest.rateBps)}`, 'rate');
  const { domain } = forwarding.segment;
  const [vlan] = domain.vlans;
  const over = ports.some(({ load, rateBps }) => load.toHost > rateBps);
  const places = [...groupBy(ports, ({ port }) => port.switch)].map(
    ([one, own]) => `${one.name} (${portRanges(own.map(({ port }) => port.name))})`,
  );
  const reasons = [...(flooding?.reasons ?? [])].map(floodWords).sort();
  const marks = ports.map(({ port, rateBps }) => mark(port, `${portLabel(port)}: ${formatRate(rateBps)}`, 'rate'));
  const at = vlan === undefined ? first : mark(vlan, `VLAN ${vlan.name}: stop the flooding here`, 'igmp');
  return {
    subject: `flooding of ${domain.key}`,
    parties: ports.map(({ host }) => hostLabel(host)),
    severity: over ? 'error' : 'warning',
    what:
      `${domain.title} ${verbOf(domain, 'floods', 'flood')} ${formatRate(flooding?.rateBps ?? 0)} in ${flooding?.streams ?? 0} ${flooding?.streams === 1 ? 'stream' : 'streams'} (${listNames(reasons)}) to every port, ` +
      `too much for ${ports.length} of them, down to ${formatRate(slowest.rateBps)}: ${listNames(byLabel(places, (name) => name))}`,
    at,
    others: otherPlaces(at, marks),
    onAir: over
      ? 'these ports drop packets of everything, clocks and control too, from the moment the streams start: pictures break up and devices fall off control that take none of these streams'
      : 'these ports have no room left: bursts, or one stream more, and they drop packets of what their hosts do need',
    fix: [...(flooding?.reasons ?? [])]
      .map((reason) => mendWords(reason, forwarding))
      .sort()
      .join('; '),
    touch: vlan === undefined ? { kind: 'switch', name: slowest.port.switch.name } : { kind: 'vlan', name: vlan.name },
  };
}

function mendWords(reason: FloodReason, { segment, conduct }: ForwardingSegment): string {
  if (reason !== 'snooping off') return MENDS[reason];
  return snoopingWords(
    segment.domain.vlans.map(({ name }) => name),
    conduct.queriers.flatMap(({ on }) => on?.name ?? []),
    conduct.routed,
  );
}

const MENDS: Readonly<Record<Exclude<FloodReason, 'snooping off'>, string>> = {
  'flooded address': 'move the streams to groups whose Ethernet address switches do not flood',
  'no querier': QUERIER_WANTED,
  unregistered: 'let the switches drop what nobody joined',
};

function takerFinding(
  { port, host, rateBps, load }: FullPort,
  arrivals: Arrivals | undefined,
  percent: number,
): WordedDraft {
  const streams = [...(arrivals?.joined ?? [])].sort(([, a], [, b]) => b - a);
  const routed = arrivals?.asRouterBps ?? 0;
  const largest = rateWords(streams.map(([leg, rate]) => [legLabel(leg), rate]));
  const extra = [
    routed > 0 ? `; ${formatRate(routed)} of it only because it queries or routes, so that it gets every stream` : '',
    load.flooded > 0 ? `; ${formatRate(load.flooded)} of it flooded` : '',
  ].join('');
  return {
    subject: `to ${hostLabel(host)} at ${portLabel(port)}`,
    parties: [hostLabel(host), ...streams.map(([leg]) => legLabel(leg))],
    severity: load.toHost > rateBps ? 'error' : 'warning',
    what: `${hostLabel(host)} at ${portLabel(port)} gets ${formatRate(load.toHost)} over ${formatRate(rateBps)}, ${shareWords(load.toHost, rateBps)}${largest === '' ? '' : `: ${largest}`}${extra}`,
    at: rateMark(host, port, rateBps),
    others: host.device.receivers
      .filter((receiver) => receiver.legs.some((leg) => leg.interface === host))
      .slice(0, MOST_MARKS)
      .map((receiver) => mark(receiver, receiver.label, 'takes')),
    onAir:
      load.toHost > rateBps
        ? 'the switch drops what does not fit, from every stream to this host: all its pictures and sound break up as soon as it takes them all'
        : 'nothing while every sender is even; a switch of sources that takes the new stream before it leaves the old one, or a burst, and all its pictures break up',
    fix: `take fewer or smaller streams here, or a port of ${formatRate((load.toHost * 100) / percent)} or more${routed > 0 ? '; or let a switch query and route instead' : ''}`,
    touch: { kind: 'device', name: host.device.name },
  };
}

function senderFinding({ port, host, rateBps, load }: FullPort, model: Model, percent: number): WordedDraft {
  const legs = host.device.senders.flatMap((sender) => sender.legs.filter((leg) => leg.interface === host));
  const rates = legs.map((leg): [string, number] => [legLabel(leg), model.rates.onWire(leg)?.onPort ?? 0]);
  return {
    subject: `from ${hostLabel(host)} at ${portLabel(port)}`,
    parties: [hostLabel(host), ...legs.map(legLabel)],
    severity: load.fromHost > rateBps ? 'error' : 'warning',
    what: `${hostLabel(host)} at ${portLabel(port)} sends ${formatRate(load.fromHost)} over ${formatRate(rateBps)}, ${shareWords(load.fromHost, rateBps)}: ${rateWords(rates)}`,
    at: rateMark(host, port, rateBps),
    others: legs.slice(0, MOST_MARKS).map((leg) => mark(leg, legLabel(leg), 'interface')),
    onAir:
      load.fromHost > rateBps
        ? 'the device cannot send all of it: it drops packets or refuses the last stream, as soon as all are on'
        : 'nothing while every stream is even; bursts wait and arrive late, and receivers with small buffers show it',
    fix: `send fewer or smaller streams here, or use an interface and port of ${formatRate((load.fromHost * 100) / percent)} or more`,
    touch: { kind: 'device', name: host.device.name },
  };
}

/** Enough to find the cause; a wall of monitors has a hundred. */
const MOST_MARKS = 20;

/** The slower of the two is the one to change. */
function rateMark(host: Interface, port: Port, rateBps: number): ReturnType<typeof mark> {
  return port.rateBps !== rateBps
    ? mark(host, `${hostLabel(host)}: ${formatRate(rateBps)}`, 'rate')
    : mark(port, `${portLabel(port)}: ${formatRate(rateBps)}`, 'rate');
}

function hostLabel(host: Interface): string {
  return `${host.device.name} ${host.name}`;
}
