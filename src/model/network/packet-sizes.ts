/** Packets against what their way takes: MTUs of VLANs and ports (RFC 2923 §2.1, ST 2110-10 §6.4). */
import { groupBy } from '../../collections/group-by.js';
import { isNonEmpty, type NonEmpty } from '../../collections/non-empty.js';
import type { Leg, Plan, Port, Vlan } from '../../plan/types.js';
import { isExtended, type Rates, STANDARD_UDP_OCTETS, unusualLegs } from '../streams/index.js';
import type { Network } from './flows.js';
import { portsOnWay } from './packet-path.js';

/** Legs with large packets, each list in plan order. */
export interface LargePackets {
  /** More in a datagram than the coding may have (AES67-2018 §6.3, ST 2110-10 §6.3). */
  readonly overLimit: readonly Leg[];
  /** Others that are larger than the smallest MTU of the plan, wherever that is. */
  readonly overMtu: readonly Leg[];
}

export function largePackets(plan: Plan, rates: Rates): LargePackets {
  const overLimit: Leg[] = [];
  const overMtu: Leg[] = [];
  const smallest = smallestMtu(plan);
  const excessOf = (leg: Leg): Leg[] | undefined => {
    const rate = rates.of(leg)?.rate;
    if (rate === undefined) return undefined;
    if (rate.udpLimitOctets !== undefined && rate.largestUdpOctets > rate.udpLimitOctets) return overLimit;
    return rate.largestIpOctets > smallest ? overMtu : undefined;
  };
  // Legs of one make have packets of one size.
  if (unusualLegs(plan).makes.some(({ leg }) => excessOf(leg) !== undefined))
    for (const leg of plan.legs) excessOf(leg)?.push(leg);
  return { overLimit, overMtu };
}

/** What is too small for some legs: a VLAN that states an MTU, else ports on their way. */
export interface NarrowWay {
  readonly key: string;
  readonly vlan: Vlan;
  /** Ports with a smaller MTU; none where the VLAN itself states one. */
  readonly ports: ReadonlySet<Port>;
  readonly legs: NonEmpty<Leg>;
  /** The largest of their IP packets. */
  readonly ipOctets: number;
  /** False where every size is taken from common practice. */
  readonly computed: boolean;
}

/** Legs whose packets some MTU on their way does not take, joined by what is too small for them and by a key. */
export function narrowWays(
  large: readonly Leg[],
  network: Network,
  rates: Rates,
  keyOf: (leg: Leg, vlan: Vlan) => string,
): readonly NarrowWay[] {
  const found = new Map<string, { readonly vlan: Vlan; readonly legs: Set<Leg>; readonly ports: Set<Port> }>();
  const add = (leg: Leg, { vlan, ports }: Narrow): void => {
    const key = keyOf(leg, vlan);
    const one = found.get(key) ?? { vlan, legs: new Set(), ports: new Set() };
    found.set(key, one);
    one.legs.add(leg);
    for (const port of ports) one.ports.add(port);
  };
  for (const leg of large)
    for (const narrow of narrowFor(leg, rates.of(leg)?.rate?.largestIpOctets ?? 0, network)) add(leg, narrow);
  return [...found].flatMap(([key, { vlan, ports, legs: set }]) => {
    const legs = [...set];
    const known = legs.flatMap((leg) => rates.of(leg)?.rate ?? []);
    const ipOctets = Math.max(...known.map(({ largestIpOctets }) => largestIpOctets));
    const computed = known.some(({ basis }) => basis === 'computed');
    return isNonEmpty(legs) ? [{ key, vlan, ports, legs, ipOctets, computed }] : [];
  });
}

interface Narrow {
  readonly vlan: Vlan;
  readonly ports: readonly Port[];
}

function narrowFor(leg: Leg, octets: number, network: Network): readonly Narrow[] {
  const own = leg.vlan?.mtu !== undefined && leg.vlan.mtu < octets ? leg.vlan : undefined;
  return [
    ...(own === undefined ? [] : [{ vlan: own, ports: [] }]),
    ...network.flowsOf(leg).flatMap((flow): readonly Narrow[] => {
      const { vlans } = flow.forwarding.segment.domain;
      const [vlan] = vlans;
      const stated = vlans.filter(({ mtu }) => mtu !== undefined);
      const small = stated.find(({ mtu = 0 }) => mtu < octets);
      const narrow = flow.through === undefined ? (own ?? small) : small;
      if (small !== undefined && narrow !== undefined) return [{ vlan: narrow, ports: [] }];
      // Ports below what the VLAN promises: links/mtu-differs.
      if (stated.length > 0 || vlan === undefined) return [];
      const ports = [...portsOnWay(flow)].filter(({ mtu }) => mtu !== undefined && mtu < octets);
      return ports.length === 0 ? [] : [{ vlan, ports }];
    }),
  ];
}

/** Nothing of the plan takes less; no packet up to here needs a second look. */
function smallestMtu({ vlans, switches }: Plan): number {
  let least = Infinity;
  for (const { mtu } of vlans) if (mtu !== undefined && mtu < least) least = mtu;
  for (const one of switches)
    for (const { mtu } of one.ports.values()) if (mtu !== undefined && mtu < least) least = mtu;
  return least;
}

/** A VLAN with packets above the standard size in it, where nothing states what it takes. */
export interface UnsaidMtu {
  readonly vlan: Vlan;
  readonly legs: NonEmpty<Leg>;
  readonly ipOctets: number;
}

/** Large packets where neither a VLAN nor any port on the way states an MTU, by the VLAN of their legs. */
export function unsaidMtus({ legs }: Plan, network: Network, rates: Rates): readonly UnsaidMtu[] {
  const unsaid = legs.filter((leg) => isLarge(leg, rates) && isUnsaid(leg, network));
  return [...groupBy(unsaid, ({ vlan }) => vlan)].map(([vlan, own]) => ({
    vlan,
    legs: own,
    ipOctets: Math.max(...own.map((leg) => rates.of(leg)?.rate?.largestIpOctets ?? 0)),
  }));
}

function isLarge(leg: Leg, rates: Rates): boolean {
  const { format } = leg.sender;
  if (format === undefined || !isExtended(format)) return false;
  return (rates.of(leg)?.rate?.largestUdpOctets ?? 0) > STANDARD_UDP_OCTETS;
}

function isUnsaid(leg: Leg, network: Network): boolean {
  if (leg.vlan?.mtu !== undefined) return false;
  return network
    .flowsOf(leg)
    .every(
      (flow) =>
        flow.forwarding.segment.domain.vlans.every(({ mtu }) => mtu === undefined) &&
        [...portsOnWay(flow)].every(({ mtu }) => mtu === undefined),
    );
}
