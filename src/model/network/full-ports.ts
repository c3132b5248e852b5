/** Host ports that carry more than a share of their rate, and segments whose flooding alone is too much for them. */
import { groupBy } from '../../collections/group-by.js';
import type { NonEmpty } from '../../collections/non-empty.js';
import { byLabel } from '../../collections/order.js';
import type { Interface, Plan, Port, Rig } from '../../plan/types.js';
import { portLabel } from '../vlans/index.js';
import { floodings, type Flooding } from './arrivals.js';
import type { ForwardingSegment, Network } from './flows.js';
import type { Load, RateOf } from './load.js';

/** One direction of a port that is fuller than it should be. */
export interface FullPort {
  readonly port: Port;
  readonly host: Interface;
  /** The lesser of the port's rate and its host's. */
  readonly rateBps: number;
  readonly loadBps: number;
  readonly way: 'toHost' | 'fromHost';
  /** Part of the load nobody there asked for. */
  readonly floodedBps: number;
  /** Without what nobody asked for it would have room. */
  readonly byFlood: boolean;
}

/** Ports above the percentage of their rate that the host's rig allows, by the first interface the plan has at each, in plan order. */
export function fullPorts({ interfaces }: Plan, { ports }: Load, percentOf: (rig: Rig) => number): readonly FullPort[] {
  const seen = new Set<Port>();
  return interfaces.flatMap((host): readonly FullPort[] => {
    const { port } = host;
    const carried = port === undefined || seen.has(port) ? undefined : ports.get(port);
    const rateBps = Math.min(port?.rateBps ?? Infinity, host.rateBps ?? Infinity);
    if (port === undefined || carried === undefined || rateBps === Infinity) return [];
    seen.add(port);
    const limitBps = (rateBps * percentOf(host.device.rig)) / 100;
    const { toHost, fromHost, flooded } = carried;
    const at = { port, host, rateBps };
    const both: readonly FullPort[] = [
      { ...at, way: 'toHost', loadBps: toHost, floodedBps: flooded, byFlood: toHost - flooded <= limitBps },
      { ...at, way: 'fromHost', loadBps: fromHost, floodedBps: 0, byFlood: false },
    ];
    return both.filter(({ loadBps }) => loadBps > limitBps);
  });
}

/** A segment with the ports that its flooding fills, the slowest first. */
export interface FloodedPorts {
  readonly forwarding: ForwardingSegment;
  readonly flooding: Flooding;
  readonly ports: NonEmpty<FullPort>;
}

/** Ports filled by flooding alone, by the segment that floods. */
export function floodedPorts(full: readonly FullPort[], network: Network, rateOf: RateOf): readonly FloodedPorts[] {
  const byFlood = full.filter((one) => one.byFlood);
  if (byFlood.length === 0) return [];
  const forwardingOf = new Map(
    network.forwardings.flatMap((forwarding) =>
      forwarding.segment.hostsAt.flat().map((host) => [host, forwarding] as const),
    ),
  );
  const floods = floodings(network, rateOf);
  return [...groupBy(byFlood, ({ host }) => forwardingOf.get(host))].map(([forwarding, unordered]) => {
    const [first, ...rest] = byLabel(unordered, ({ port }) => portLabel(port));
    const ports: [FullPort, ...FullPort[]] = [first, ...rest];
    ports.sort((a, b) => a.rateBps - b.rateBps);
    return { forwarding, flooding: floods.get(forwarding) ?? NO_FLOODING, ports };
  });
}

/** Of the segment of a port's first host, where what floods comes from that of another host at the same port. */
const NO_FLOODING: Flooding = { rateBps: 0, streams: 0, reasons: new Set() };
