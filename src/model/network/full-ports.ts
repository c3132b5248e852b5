/** Host ports that carry more than a share of their rate, and segments whose flooding alone is too much for them. */
import { append, groupBy } from '../../collections/group-by.js';
import type { NonEmpty } from '../../collections/non-empty.js';
import { byLabel } from '../../collections/order.js';
import type { Interface, Leg, Plan, Port, Rig } from '../../plan/types.js';
import type { Strays } from '../groups/index.js';
import type { Rates } from '../streams/index.js';
import { portLabel } from '../vlans/index.js';
import { floodings, floodingAt, type Flooding } from './arrivals.js';
import { chosenOf, type Chosen } from './chosen-load.js';
import type { Network } from './flows.js';
import type { ForwardingSegment } from './ground.js';
import type { Headroom } from './headroom.js';
import type { Load } from './load.js';
import type { Unrated } from './unrated.js';

/** One direction of a port that is fuller than it should be. */
export interface FullPort {
  readonly port: Port;
  readonly host: Interface;
  /** All interfaces at the port, in plan order: that of the host, and others in VLANs of their own. */
  readonly interfaces: readonly Interface[];
  /** The lesser of the port's rate and its host's. */
  readonly rateBps: number;
  readonly loadBps: number;
  /** Streams of unknown rate pass too. */
  readonly atLeast: boolean;
  readonly way: 'toHost' | 'fromHost';
  /** The part of the load that inputs choose, in the worst case; undefined where they choose nothing. */
  readonly chosen: Chosen | undefined;
  /** Part of the load nobody there asked for. */
  readonly floodedBps: number;
  /** Without what nobody asked for it would have room. */
  readonly byFlood: boolean;
}

/** What full ports are found in; each part is asked for only where those before it do not settle it. */
export interface PortGround {
  readonly plan: Plan;
  readonly headroom: Headroom;
  readonly load: Load;
  readonly unrated: Unrated;
  readonly network: Network;
  readonly rates: Rates;
  readonly strays: Strays;
}

/** Ports above the percentage of their rate that the host's rig allows, by the first interface the plan has at each, in plan order. */
export function fullPorts(ground: PortGround, percentOf: (rig: Rig) => number): readonly FullPort[] {
  if (ground.headroom.portsHoldAll(percentOf)) return [];
  const { plan, load, unrated } = ground;
  const byPort = new Map<Port, [Interface, ...Interface[]]>();
  for (const one of plan.interfaces) if (one.port !== undefined) append(byPort, one.port, one);
  return [...byPort].flatMap(([port, interfaces]): readonly FullPort[] => {
    const [host] = interfaces;
    const carried = load.ports.get(port);
    const rateBps = Math.min(port.rateBps ?? Infinity, host.rateBps ?? Infinity);
    if (carried === undefined || rateBps === Infinity) return [];
    const limitBps = (rateBps * percentOf(host.device.rig)) / 100;
    const { toHost, fromHost, flooded } = carried;
    const at = { port, host, interfaces, rateBps, chosen: undefined };
    const both: readonly FullPort[] = [
      {
        ...at,
        way: 'toHost',
        loadBps: toHost,
        atLeast: unrated.toHost(port),
        chosen: chosenOf([load.chosen?.ports.get(port)]),
        floodedBps: flooded,
        byFlood: toHost - flooded <= limitBps,
      },
      { ...at, way: 'fromHost', loadBps: fromHost, atLeast: unrated.fromHost(port), floodedBps: 0, byFlood: false },
    ];
    return both.filter(({ loadBps, way }) => loadBps > limitBps && !(way === 'fromHost' && fitsWithoutStrays()));

    /** What is sent from the wrong interface is found as that. */
    function fitsWithoutStrays(): boolean {
      const strays = interfaces.flatMap((via) => legsOf(via).filter((leg) => ground.strays.meant(leg) !== undefined));
      return fromHost - strays.reduce((sum, leg) => sum + (ground.rates.onWire(leg)?.onPort ?? 0), 0) <= limitBps;
    }
  });
}

function legsOf(via: Interface): readonly Leg[] {
  return via.device.senders.flatMap(({ legs }) => legs.filter((leg) => leg.interface === via));
}

/** A segment with the ports that its flooding fills, the slowest first. */
export interface FloodedPorts {
  readonly forwarding: ForwardingSegment;
  readonly flooding: Flooding;
  readonly ports: NonEmpty<FullPort>;
}

/** Ports filled by flooding alone, by the segment that floods them, or floods them most; the host is the one it reaches. */
export function floodedPorts(full: readonly FullPort[], { network, rates }: PortGround): readonly FloodedPorts[] {
  const byFlood = full.filter((one) => one.byFlood);
  if (byFlood.length === 0) return [];
  const rateOf = ({ leg }: { readonly leg: Parameters<Rates['onWire']>[0] }) => rates.onWire(leg);
  const hosts = new Set(byFlood.flatMap(({ interfaces }) => interfaces));
  const floodBps = floodingAt(network, rateOf, hosts);
  const blamed = byFlood.flatMap((one) => {
    const [most] = one.interfaces
      .flatMap((host) => {
        const forwarding = network.forwardingOf({ vlan: host.vlan, network: host.network, interface: host });
        return forwarding === undefined ? [] : [{ host, forwarding, bps: floodBps.get(host) ?? 0 }];
      })
      .sort((a, b) => b.bps - a.bps);
    return most === undefined ? [] : [{ forwarding: most.forwarding, full: { ...one, host: most.host } }];
  });
  const floods = floodings(network, rateOf);
  return [...groupBy(blamed, ({ forwarding }) => forwarding)].flatMap(([forwarding, list]) => {
    const flooding = floods.get(forwarding);
    if (flooding === undefined) return [];
    const [first, ...rest] = byLabel(list, (one) => portLabel(one.full.port));
    const ports: [FullPort, ...FullPort[]] = [first.full, ...rest.map((one) => one.full)];
    ports.sort((a, b) => a.rateBps - b.rateBps);
    return { forwarding, flooding, ports };
  });
}

/** Whose threshold says what a port may carry. */
export const PORT_SHARE = 'capacity/port-overload.percent';

/**
 * Whether the flooding of a segment alone makes ports too full: `capacity/port-overload` then speaks of it, and rules on
 * what lets it flood are silent. Where that rule does not judge, its threshold is undefined and nothing counts as full.
 */
export function createFillsPorts(
  ground: PortGround,
  percentOf: (rig: Rig) => number | undefined,
): (forwarding: ForwardingSegment | undefined) => boolean {
  let filling: ReadonlySet<ForwardingSegment> | undefined;
  return (forwarding) => {
    if (forwarding === undefined) return false;
    filling ??= new Set(
      floodedPorts(
        fullPorts(ground, (rig) => percentOf(rig) ?? Infinity),
        ground,
      ).map((one) => one.forwarding),
    );
    return filling.has(forwarding);
  };
}
