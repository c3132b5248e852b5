import {
  agree,
  byLabel,
  counted,
  formatRate,
  listNames,
  ownerLabel,
  portLabel,
  portsBySwitch,
  QUERIER_WANTED,
  snoopingWords,
  type Device,
  type FindingWords,
  type Interface,
  type NonEmpty,
  type Port,
  type Switch,
  type Vlan,
} from '../../../src/doors/rule.js';
import {
  atLeastWords,
  chosenWords,
  leaving,
  floodWords,
  rateLabel,
  rateWords,
  shareWords,
  type ChosenFacts,
  type FloodReason,
  type NamedRate,
  type RateNote,
} from '../../../src/doors/capacity.js';

export type Facts = FloodingFacts | GetsFacts | SendsFacts | RateFacts;

/** What a segment floods is too much for some of its ports. */
interface FloodingFacts {
  readonly form: 'flooding';
  readonly where: string;
  readonly vlans: readonly Vlan[];
  readonly floodBps: number;
  readonly streams: number;
  readonly reasons: readonly FloodReason[];
  /** The slowest first. */
  readonly ports: NonEmpty<Port>;
  readonly slowestBps: number;
  /** One of them gets more than it carries at all. */
  readonly over: boolean;
  /** Planned to query there. */
  readonly queriers: readonly (Switch | Device)[];
  /** A multicast router queries there. */
  readonly routed: boolean;
  /** Switches that do not snoop where their VLAN does. */
  readonly notSnooping: readonly Switch[];
}

interface HostFacts {
  readonly host: Interface;
  readonly port: Port;
  readonly loadBps: number;
  /** Streams of unknown rate pass too. */
  readonly atLeast: boolean;
  readonly rateBps: number;
  /** What would hold the load within the share that may be used. */
  readonly neededBps: number;
  readonly streams: readonly NamedRate[];
}

interface GetsFacts extends HostFacts {
  readonly form: 'gets';
  /** Only as the querier or router it is. */
  readonly asRouterBps: number;
  /** Only because it is bound to the port by hand. */
  readonly boundBps: number;
  readonly floodedBps: number;
  /** What inputs choose of it; undefined where they choose nothing. */
  readonly chosen: ChosenFacts | undefined;
}

interface SendsFacts extends HostFacts {
  readonly form: 'sends';
}

/** A rate, often a kind's, is too little for its devices, on ports that have room for them. */
interface RateFacts {
  readonly form: 'rate';
  /** The kind that writes it; undefined where a device does. */
  readonly kind: string | undefined;
  readonly hosts: NonEmpty<Interface>;
  readonly rateBps: number;
  /** The most that one of them sends; undefined where none sends too much. */
  readonly sentBps: number | undefined;
  /** The most that one of them gets; undefined where none gets too much. */
  readonly gotBps: number | undefined;
  readonly atLeast: boolean;
}

export type Note = RateNote | 'stop flooding';

export function words(facts: Facts): FindingWords<Note> {
  switch (facts.form) {
    case 'flooding':
      return { ...floodingWords(facts), label };
    case 'rate':
      return { ...slowWords(facts), label };
    case 'gets':
    case 'sends':
      return { ...hostWords(facts), label };
  }
}

function label(name: string, note: Note): string {
  return note === 'stop flooding' ? `${name}: stop the flooding here` : rateLabel(name, note);
}

function floodingWords(facts: FloodingFacts): FindingWords {
  const { where, vlans, floodBps, streams, reasons, ports, slowestBps, over, notSnooping } = facts;
  const from =
    notSnooping.length === 0
      ? ''
      : ` of ${listNames(
          notSnooping.map(({ name }) => name),
          3,
        )}`;
  const start = reasons.every((reason) => reason === 'silent receiver')
    ? 'once the switches have forgotten the receiver, five minutes after its last frame'
    : 'from the moment the streams start';
  return {
    what:
      `${where} ${agree(vlans.length, 'floods', 'flood')} ${formatRate(floodBps)} in ${counted(streams, 'stream')} (${listNames(reasons.map(floodWords))}) to every port${from}, ` +
      `too much for ${ports.length} of them, down to ${formatRate(slowestBps)}: ${listNames(byLabel(portsBySwitch(ports), (name) => name))}`,
    onAir: over
      ? `these ports drop packets of everything, clocks and control too, ${start}: pictures break up and devices fall off control that take none of these streams`
      : 'these ports have no room left: bursts, or one stream more, and they drop packets of what their hosts do need',
    fix: reasons
      .map((reason) => mendWords(reason, facts))
      .sort()
      .join('; '),
  };
}

function mendWords(reason: FloodReason, { vlans, queriers, routed, notSnooping }: FloodingFacts): string {
  switch (reason) {
    case 'snooping off':
      if (notSnooping.length > 0)
        return `turn snooping on at ${listNames(
          notSnooping.map(({ name }) => name),
          3,
        )}`;
      return snoopingWords(
        vlans.map(({ name }) => name),
        queriers.map(({ name }) => name),
        routed,
      );
    case 'flooded address':
      return 'move the streams to groups whose multicast MAC switches do not flood';
    case 'no querier':
      return QUERIER_WANTED;
    case 'silent receiver':
      return 'let the receivers that never speak be heard before switches forget them, or bind their MAC addresses to their ports';
    case 'unregistered':
      return 'let the switches drop what nobody joined';
  }
}

function slowWords({ kind, hosts, rateBps, sentBps, gotBps, atLeast }: RateFacts): FindingWords {
  const loads = [
    ...(sentBps === undefined
      ? []
      : [`${agree(hosts.length, 'sends', 'they send')} ${atLeastWords(atLeast)}up to ${formatRate(sentBps)}`]),
    ...(gotBps === undefined
      ? []
      : [
          `${agree(hosts.length, 'gets', sentBps === undefined ? 'they get' : 'get')} ${atLeastWords(atLeast)}up to ${formatRate(gotBps)}`,
        ]),
  ];
  const over = Math.max(sentBps ?? 0, gotBps ?? 0) > rateBps;
  const count = hosts.length;
  const names = listNames(hosts.map(ownerLabel));
  const who = kind === undefined ? `${names} runs at` : `kind ${kind} gives ${counted(count, 'interface')}`;
  return {
    what: `${who} ${formatRate(rateBps)}, but ${loads.join(' and ')}, on ${agree(count, 'a port', 'ports')} with room for it${kind === undefined ? '' : `: ${names}`}`,
    onAir: over
      ? 'at that rate packets of every stream there are dropped: pictures and sound break up'
      : 'nothing while every stream is even; a burst more, and at that rate pictures and sound break up',
    fix: `correct the rate${kind === undefined ? '' : ` in kind ${kind}, once for all`}; where it is right, send or take fewer or smaller streams there, or use faster interfaces`,
  };
}

function hostWords(facts: GetsFacts | SendsFacts): FindingWords {
  const { host, port, loadBps, atLeast, rateBps, neededBps, streams } = facts;
  const at = `${ownerLabel(host)} at ${portLabel(port)}`;
  const load = `${atLeastWords(atLeast)}${formatRate(loadBps)} over ${formatRate(rateBps)}, ${shareWords(loadBps, rateBps)}`;
  const over = loadBps > rateBps;
  if (facts.form === 'sends')
    return {
      what: `${at} sends ${load}: ${rateWords(streams)}`,
      onAir: over
        ? 'the device cannot send all of it: it drops packets or refuses the last stream, as soon as all are on'
        : 'nothing while every stream is even; bursts wait and arrive late, and receivers with small buffers show it',
      fix: `send fewer or smaller streams here, or use an interface and port of ${formatRate(neededBps)} or more`,
    };
  const { asRouterBps, boundBps, floodedBps, chosen } = facts;
  const parts = [
    `${at} gets ${load}${streams.length === 0 ? '' : `: ${rateWords(streams)}`}`,
    ...(chosen === undefined ? [] : [chosenWords(chosen)]),
    ...(asRouterBps > 0
      ? [`${formatRate(asRouterBps)} of it only because it queries or routes, so that it gets every stream`]
      : []),
    ...(boundBps > 0 ? [`${formatRate(boundBps)} of it only because it is bound to the port`] : []),
    ...(floodedBps > 0 ? [`${formatRate(floodedBps)} of it flooded`] : []),
  ];
  return {
    what: parts.join('; '),
    onAir: over
      ? 'the switch drops what does not fit, from every stream to this host: all its pictures and sound break up as soon as it takes them all'
      : 'fine while senders are evenly paced; a switch of sources that joins the new stream before it leaves the old one, or a burst, and all its pictures break up',
    fix: `take fewer or smaller streams here, or a port of ${formatRate(neededBps)} or more${asRouterBps > 0 ? '; or let a switch query and route instead' : ''}${boundBps > 0 ? '; or unbind what it does not take' : ''}${leaving(
      chosen,
    )
      .map((one) => `; or ${one}`)
      .join('')}`,
  };
}
