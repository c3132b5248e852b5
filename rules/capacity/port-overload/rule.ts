import { createEditList, likely, peopleDecide, writtenAt, type Cure } from '../../../src/doors/cures.js';
import {
  byLabel,
  clause,
  commonPractice,
  defineRule,
  eachInput,
  inRig,
  legLabel,
  mapAll,
  mark,
  noted,
  otherPlaces,
  ownerLabel,
  portLabel,
  touchOfKind,
  type FindingDraft,
  type Interface,
  type Kind,
  type Mark,
  type Model,
  type Receiver,
  type Rig,
} from '../../../src/doors/rule.js';
import {
  arrivalsAt,
  byCodeUnit,
  floodedPorts,
  chosenFacts,
  fullPorts,
  sureBps,
  keyAssumed,
  slowRates,
  type Arrivals,
  type FloodedPorts,
  type FullPort,
  type RateNote,
  type SlowRate,
} from '../../../src/doors/capacity.js';
import { words, type Facts, type Note } from './words.js';

type Draft = FindingDraft<Facts, Note>;

export default defineRule<Facts, Note>({
  id: 'capacity/port-overload',
  summary: 'A host sends or gets more than its port carries',
  severity: 'error',
  people: 'which streams are taken here, or which port',
  sources: [
    clause('RFC 4541', '2.1.2'),
    clause('ST 2110-21', '6.3'),
    commonPractice('media fills a port to no more than 80 or 90 %'),
  ],
  needs: ['formats', 'switchPorts', 'portRates'],
  brief: 'too full',
  harm: { error: 'spoils', warning: 'later' },
  thresholds: { percent: { default: 90, what: 'share of a port that streams may fill, in percent' } },
  *check({ model, threshold }) {
    const percentOf = (rig: Rig): number => threshold('percent', rig);
    const full = fullPorts(model, percentOf);
    if (full.length === 0) return;
    for (const one of floodedPorts(full, model)) yield floodFinding(one);
    const alone = byLabel(
      full.filter((one) => !one.byFlood),
      ({ host }) => ownerLabel(host),
    );
    const taking = new Set(alone.flatMap((one) => (one.way === 'toHost' ? one.interfaces : [])));
    const { rates } = model;
    // Several devices of a kind, or both ways of one: one rate is the cause.
    const slow = slowRates(alone, percentOf).filter((one) => one.full.length > 1);
    for (const one of slow) yield rateFinding(one, percentOf);
    const said = new Set(slow.flatMap((one) => one.full));
    const arrivals = arrivalsAt(model.network, ({ leg }) => rates.onWire(leg), taking);
    for (const one of alone.filter((its) => !said.has(its)))
      yield one.way === 'toHost'
        ? takerFinding(one, arrivals, rates, percentOf(one.host.device.rig))
        : senderFinding(one, model, percentOf(one.host.device.rig));
  },
  words,
});

function floodFinding({ forwarding, flooding, ports }: FloodedPorts): Draft {
  const { segment } = forwarding;
  const { conduct } = forwarding.igmp;
  const { domain } = segment;
  const [vlan] = domain.vlans;
  const [slowest] = ports;
  const over = ports.some(({ loadBps, rateBps }) => loadBps > rateBps);
  const marks = ports.map(portMark);
  const notSnooping =
    conduct.snooping === false
      ? []
      : segment.nodes.filter((one) => one.snooping === false && flooding.reasons.has('snooping off'));
  const [blind] = byLabel(notSnooping, ({ name }) => name);
  const onlySilent = flooding.reasons.size === 1 && flooding.reasons.has('silent receiver');
  const [silent] = onlySilent
    ? byLabel(
        segment.hostsAt.flat().filter((one) => one.silent),
        ownerLabel,
      )
    : [];
  const at =
    silent !== undefined
      ? noted(mark(silent, ownerLabel(silent), 'silent'), 'stop flooding')
      : blind !== undefined
        ? noted(mark(blind, blind.name, 'snooping'), 'stop flooding')
        : vlan === undefined
          ? portMark(slowest)
          : noted(mark(vlan, `VLAN ${vlan.name}`, 'igmp'), 'stop flooding');
  return {
    subject: `flooding of ${domain.key}`,
    parties: ports.map(({ host }) => ownerLabel(host)),
    severity: over ? 'error' : 'warning',
    confidence: keyAssumed(conduct, flooding.reasons) ? 'assumed' : over ? 'certain' : 'likely',
    facts: {
      form: 'flooding',
      where: domain.title,
      vlans: domain.vlans,
      floodBps: flooding.rateBps,
      streams: flooding.streams,
      reasons: [...flooding.reasons].sort(byCodeUnit),
      ports: mapAll(ports, ({ port }) => port),
      slowestBps: slowest.rateBps,
      over,
      queriers: conduct.queriers.flatMap(({ on }) => on ?? []),
      routed: conduct.routed,
      notSnooping: byLabel(notSnooping, ({ name }) => name),
    },
    at,
    others: otherPlaces(at, marks),
    touch:
      silent !== undefined
        ? { kind: 'device', name: silent.device.name }
        : blind !== undefined || vlan === undefined
          ? { kind: 'switch', name: (blind ?? slowest.port.switch).name }
          : { kind: 'vlan', name: vlan.name },
  };
}

/** One line says a rate that is too little for its devices. */
function rateFinding({ kind, hosts, full }: SlowRate, percentOf: (rig: Rig) => number): Draft {
  const [{ host, rateBps }] = full;
  const label = kind === undefined ? ownerLabel(host) : `kind ${kind.name} ${host.name}`;
  const { rig } = host.device;
  const limitBps = (rateBps * percentOf(rig)) / 100;
  const all = full.map((one) => sureness(one, one.way === 'toHost' ? limitBps : 0));
  const worst = all.find(({ severity }) => severity === 'error') ?? all[0];
  const most = (way: FullPort['way']): number | undefined => {
    const loads = full.flatMap((one) => (one.way === way ? [one.loadBps] : []));
    return loads.length === 0 ? undefined : Math.max(...loads);
  };
  const interfaces = full.flatMap((one) => (one.way === 'toHost' ? one.interfaces : []));
  return {
    subject: `rate of ${label}${inRig(rig)}`,
    parties: hosts.map(ownerLabel),
    ...worst,
    cure: () => rateOfPorts(kind, full),
    facts: {
      form: 'rate',
      kind: kind?.name,
      hosts,
      rateBps,
      sentBps: most('fromHost'),
      gotBps: most('toHost'),
      atLeast: full.some((one) => one.atLeast),
    },
    hits: receiversAt(interfaces),
    at: noted(mark(host, label, 'rate'), { rateBps }),
    others: [...new Map(full.map((one) => [one.port, one])).values()]
      .slice(0, MOST_MARKS)
      .map(({ port }) => noted(mark(port, portLabel(port), 'rate'), { rateBps: port.rateBps ?? rateBps })),
    touch: kind === undefined ? { kind: 'device', name: host.device.name } : touchOfKind(kind),
  };
}

/** The rate of their ports, where that is one rate. */
function rateOfPorts(kind: Kind | undefined, full: SlowRate['full']): Cure {
  const [{ host, port }] = full;
  const rate = writtenAt(port, 'rate');
  if (rate === undefined || full.some((one) => one.port.rateBps !== port.rateBps))
    return peopleDecide('which streams are taken here, or which port');
  const edits = createEditList();
  if (kind === undefined) edits.set(host, 'rate', rate);
  else edits.setWhereWritten(host, 'rate', rate);
  return likely(edits);
}

function takerFinding(
  full: FullPort,
  arrivals: ReadonlyMap<Interface, Arrivals>,
  rates: Model['rates'],
  percent: number,
): Draft {
  const { port, host, interfaces, rateBps, loadBps, atLeast, floodedBps, chosen } = full;
  const limitBps = (rateBps * percent) / 100;
  const here = interfaces.flatMap((one) => arrivals.get(one) ?? []);
  const inChoice = (chosen?.legs ?? []).map((leg) => [leg, rates.onWire(leg)?.onPort ?? 0] as const);
  const streams = [...here.flatMap(({ joined }) => [...joined]), ...inChoice]
    .map(([leg, rate]) => ({ name: legLabel(leg), rateBps: rate }))
    .sort((a, b) => b.rateBps - a.rateBps);
  return {
    subject: `to ${ownerLabel(host)} at ${portLabel(port)}`,
    parties: [ownerLabel(host), ...streams.map(({ name }) => name)],
    ...sureness(full, limitBps),
    facts: {
      form: 'gets',
      ...{ host, port, loadBps, atLeast, rateBps, neededBps: (loadBps * 100) / percent },
      ...{ streams, floodedBps },
      chosen: chosen === undefined ? undefined : chosenFacts(chosen, loadBps, limitBps),
      asRouterBps: here.reduce((sum, one) => sum + one.asRouterBps, 0),
      boundBps: here.reduce((sum, one) => sum + one.boundBps, 0),
    },
    hits: receiversAt(interfaces),
    at: slowerMark(full),
    others: receiversAt(interfaces)
      .slice(0, MOST_MARKS)
      .map((receiver) => mark(receiver, receiver.label, 'takes')),
    touch: { kind: 'device', name: host.device.name },
  };
}

function senderFinding(full: FullPort, { rates }: Model, percent: number): Draft {
  const { port, host, interfaces, rateBps, loadBps, atLeast } = full;
  const legs = interfaces.flatMap((via) =>
    via.device.senders.flatMap((sender) => sender.legs.filter((leg) => leg.interface === via)),
  );
  const streams = legs.map((leg) => ({ name: legLabel(leg), rateBps: rates.onWire(leg)?.onPort ?? 0 }));
  return {
    subject: `from ${ownerLabel(host)} at ${portLabel(port)}`,
    parties: [ownerLabel(host), ...legs.map(legLabel)],
    ...sureness(full, 0),
    facts: { form: 'sends', host, port, loadBps, atLeast, rateBps, neededBps: (loadBps * 100) / percent, streams },
    at: slowerMark(full),
    others: legs.slice(0, MOST_MARKS).map((leg) => mark(leg, legLabel(leg), 'interface')),
    touch: { kind: 'device', name: host.device.name },
  };
}

/**
 * Up to its rate only the habit of keeping some of it free makes a port too full; what only an input that may join the
 * next stream first adds is assumed.
 */
function sureness({ loadBps, rateBps, chosen }: FullPort, limitBps: number): Pick<Draft, 'severity' | 'confidence'> {
  const sure = sureBps(loadBps, chosen);
  if (sure <= limitBps || (sure <= rateBps && loadBps > rateBps)) return { severity: 'warning', confidence: 'assumed' };
  return loadBps > rateBps
    ? { severity: 'error', confidence: 'certain' }
    : { severity: 'warning', confidence: 'likely' };
}

function receiversAt(interfaces: readonly Interface[]): readonly Receiver[] {
  const devices = [...new Set(interfaces.map(({ device }) => device))];
  return devices.flatMap(({ receivers }) =>
    eachInput(receivers).filter(({ legs }) =>
      legs.some((leg) => leg.interface !== undefined && interfaces.includes(leg.interface)),
    ),
  );
}

/** Enough to find the cause; a wall of monitors has a hundred. */
const MOST_MARKS = 20;

function portMark({ port, rateBps }: FullPort): Mark<RateNote> {
  return noted(mark(port, portLabel(port), 'rate'), { rateBps });
}

/** The slower of host and port is the one to change. */
function slowerMark(full: FullPort): Mark<RateNote> {
  const { host, port, rateBps } = full;
  return port.rateBps === rateBps ? portMark(full) : noted(mark(host, ownerLabel(host), 'rate'), { rateBps });
}
