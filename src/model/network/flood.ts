/** What a flood puts on the ports of hosts that never asked for it. */
import { append } from '../../collections/group-by.js';
import type { Interface, Leg, ReceiverLeg } from '../../plan/types.js';
import { byCodeUnit } from '../../collections/order.js';

export interface FloodedHost {
  readonly host: Interface;
  /** Line rate of its port, as far as known. */
  readonly rateBps: number | undefined;
  /** What reaches it without its asking, in bit/s on the wire. */
  readonly floodBps: number;
  /** Everything flooded that reaches it, asked for or not. */
  readonly allBps: number;
}

export interface Flood {
  readonly streams: readonly Leg[];
  /** Streams whose rate is not known: every figure is that much too small. */
  readonly unrated: number;
  /** Hosts that get a stream they did not ask for. */
  readonly hosts: readonly FloodedHost[];
  /** Of those the slowest; of equals the one that gets most, then the first by name. */
  readonly slowest: FloodedHost | undefined;
}

/** Streams that go to every host but their sender, and what each host asked for of them. */
export function floodOver(
  streams: readonly Leg[],
  hosts: readonly Interface[],
  wanted: ReadonlyMap<Interface, readonly Leg[]>,
  rateOf: (leg: Leg) => number | undefined,
): Flood {
  let total = 0;
  let unrated = 0;
  const own = new Map<Interface, { count: number; bps: number }>();
  for (const leg of streams) {
    const rate = rateOf(leg);
    if (rate === undefined) unrated++;
    total += rate ?? 0;
    if (leg.interface === undefined) continue;
    const sum = own.get(leg.interface) ?? { count: 0, bps: 0 };
    own.set(leg.interface, { count: sum.count + 1, bps: sum.bps + (rate ?? 0) });
  }
  const set = new Set(streams);
  const flooded = hosts.flatMap((host): FloodedHost[] => {
    const asked = [...new Set(wanted.get(host) ?? [])].filter((leg) => set.has(leg) && leg.interface !== host);
    const sends = own.get(host) ?? { count: 0, bps: 0 };
    if (streams.length - sends.count - asked.length <= 0) return [];
    const allBps = total - sends.bps;
    return [
      {
        host,
        rateBps: lineRate(host),
        allBps,
        floodBps: allBps - asked.reduce((sum, leg) => sum + (rateOf(leg) ?? 0), 0),
      },
    ];
  });
  return { streams, unrated, hosts: flooded, slowest: slowestOf(flooded) };
}

/** The host with the slowest port, of those whose rate is known. */
export function slowestOf(hosts: readonly FloodedHost[]): FloodedHost | undefined {
  return hosts.filter(({ rateBps }) => rateBps !== undefined).sort(bySlowness)[0];
}

/** A flood of all that is sent in a segment and all that is taken there, wherever it comes from. */
export function floodOfAll(
  { sent, taken }: { readonly sent: readonly Leg[]; readonly taken: readonly ReceiverLeg[] },
  hosts: readonly Interface[],
  heard: (by: ReceiverLeg) => readonly Leg[],
  rateOf: (leg: Leg) => number | undefined,
): Flood {
  const takes = taken.flatMap((by) => heard(by).map((leg) => ({ host: by.interface, leg })));
  const wanted = takes.flatMap(({ host, leg }) => (host === undefined ? [] : [[host, leg] as const]));
  const streams = new Set([...sent, ...takes.map(({ leg }) => leg)]);
  return floodOver([...streams], hosts, wantedByHost(wanted), rateOf);
}

/** What each host asks for, of who takes what. */
export function wantedByHost(takes: Iterable<readonly [Interface, Leg]>): ReadonlyMap<Interface, readonly Leg[]> {
  const wanted = new Map<Interface, [Leg, ...Leg[]]>();
  for (const [host, leg] of takes) append(wanted, host, leg);
  return wanted;
}

/** The lower of what a port and its host can do; undefined where neither is stated. */
export function lineRate({ port, rateBps }: Interface): number | undefined {
  return rateBps === undefined || port?.rateBps === undefined
    ? (rateBps ?? port?.rateBps)
    : Math.min(rateBps, port.rateBps);
}

function bySlowness(a: FloodedHost, b: FloodedHost): number {
  return (a.rateBps ?? 0) - (b.rateBps ?? 0) || b.floodBps - a.floodBps || byCodeUnit(nameOf(a.host), nameOf(b.host));
}

function nameOf({ device, name }: Interface): string {
  return `${device.name} ${name}`;
}
