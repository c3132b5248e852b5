/**
 * One protocol's half of a segment: IGMP for IPv4 groups, MLD for IPv6 ones. Who queries and routes, where their queries
 * are heard, and what each switch does with a group that it cannot tell or that nobody asked it for.
 */
import { inPrefix, isIPv4, type Address } from '../../values/address.js';
import { constantPrefix } from '../../values/address-table.js';
import type { Device, Interface, Switch } from '../../plan/types.js';
import { floodedEthernetAddress } from '../groups/index.js';
import type { Domains } from '../vlans/index.js';
import type { ByHand } from './by-hand.js';
import { conductOf, type Conduct, type FloodReason, type KnownQuerier, type Protocol } from './conduct.js';
import type { CutTree } from './cut-tree.js';
import type { Segment } from './segment.js';

/** A switch that queries or routes, or behind which a device does: every stream is carried to it (RFC 4541 §2.1.2 (1)). */
export interface Sink {
  readonly node: number;
  readonly why: 'querier' | 'router';
  readonly on: Switch | Device;
  /** Port of a device that queries or routes. */
  readonly port: Interface | undefined;
}

/**
 * Whether queries come to a switch. `heard`: from where is known. `assumed`: somebody queries and the plan does not say
 * where, or does not say that switches snoop: streams are taken to go straight to whoever joined. `nobody`: switches snoop
 * and no query comes, so no report leaves its switch and no membership lasts.
 */
export type Asking = 'heard' | 'assumed' | 'nobody';

export interface Plane {
  readonly conduct: Conduct;
  readonly sinks: readonly Sink[];
  /** The multicast routers among them, and those that get no more than a controller gives them. */
  readonly routers: readonly Sink[];
  /** Every box whose place is known and that queries, or would when those before it are gone. */
  readonly sources: readonly Sink[];
  /** True where somebody queries or routes and the plan does not say where. */
  readonly unplaced: boolean;
  /** By node. */
  readonly asking: readonly Asking[];
  /** Set where ports of some switch are: then each stream is followed switch by switch (spread.ts). */
  readonly byHand: ByHand | undefined;
  /**
   * Why a group is sent out of every port of a switch; undefined where it is not. `registered` tells whether a report for it
   * passed the switch, or, while nobody queries, whether anybody sent one at all.
   */
  readonly floodAt: (node: number, group: Address, registered: boolean) => FloodReason | undefined;
  /** The same for all switches that are joined with a node: whether all of them flood a group, or some. */
  readonly floodAround: (node: number, group: Address, joined: boolean) => Around;
  /** Whether all switches that are joined with a node flood whatever they know, or no longer know, while nobody queries. */
  readonly floodsUnqueried: (node: number) => boolean;
  /** Whether some of them do. */
  readonly floodsSomewhere: (node: number) => boolean;
  /** Whether a switch goes on sending a joined group everywhere once its memberships are forgotten. */
  readonly floodsForgotten: (node: number, group: Address) => boolean;
}

export interface Around {
  /** Set where every switch floods the group, joined there or not. */
  readonly everywhere: FloodReason | undefined;
  /** True where some switch may flood it. */
  readonly somewhere: boolean;
}

// Asked once a flow: most flows share one answer.
const FLOODED_SOMEWHERE: Around = { everywhere: undefined, somewhere: true };
const FLOODED_NOWHERE: Around = { everywhere: undefined, somewhere: false };

/** What a switch floods, as a set of bits. */
const OFF = 1;
const UNREGISTERED = 2;
const UNQUERIED = 4;
/** Keys by multicast MAC, or does not say: then the answer of most makers asked counts (RFC 4541 §4, question 5). */
const BLIND = 8;
const KEYED_BY_MAC = 16;
const ALL = OFF | UNREGISTERED | UNQUERIED | BLIND | KEYED_BY_MAC;

export function buildPlane(
  segment: Segment,
  protocol: Protocol,
  domains: Domains,
  cuts: CutTree,
  byHand: ByHand | undefined,
): Plane {
  const conduct = conductOf(segment, protocol, (on) => standsElsewhere(on, segment, domains));
  const { sinks, routers, sources, unplaced } = sinksOf(segment, conduct, cuts);
  const asking = segment.nodes.map((_, node): Asking => {
    if (sinks.some((sink) => cuts.joined(sink.node, node))) return 'heard';
    return conduct.snooping !== true || unplaced ? 'assumed' : 'nobody';
  });
  const bits = segment.nodes.map((one, node) => {
    const own = conduct.nodes[node];
    return (
      (own?.snooping === false ? OFF : 0) |
      (own?.unregistered === 'flood' ? UNREGISTERED : 0) |
      (own?.noQuerier === 'flood' ? UNQUERIED : 0) |
      (own?.forwarding !== 'igmp' || one.snoopingKey === 'group' || one.snoopingKey === 'source-group' ? 0 : BLIND) |
      (own?.forwarding === 'igmp' && one.snoopingKey === 'mac' ? KEYED_BY_MAC : 0)
    );
  });
  /** Bits that make a switch flood a group: which of them count depends on the group and on who joined. */
  const flooding = (node: number, group: Address, registered: boolean): number =>
    isAlwaysFlooded(group)
      ? ALL
      : OFF |
        (floodedEthernetAddress(group) ? (isIPv4(group) ? BLIND : KEYED_BY_MAC) : 0) |
        (asking[node] === 'nobody' ? UNREGISTERED | UNQUERIED : registered ? 0 : UNREGISTERED);
  const reason = (found: number, group: Address, node: number, joined: boolean): FloodReason | undefined => {
    if (isAlwaysFlooded(group)) return 'flooded address';
    if ((found & OFF) !== 0) return 'snooping off';
    if ((found & (BLIND | KEYED_BY_MAC)) !== 0) return 'flooded address';
    if (found === 0) return undefined;
    return asking[node] === 'nobody' && (joined || (found & UNQUERIED) !== 0) ? 'no querier' : 'unregistered';
  };
  const sums = new Map<number, { readonly every: boolean; readonly some: boolean }>();
  const sumOf = (node: number, mask: number): { readonly every: boolean; readonly some: boolean } => {
    const part = cuts.partOf(node);
    const key = part * (ALL + 1) + mask;
    let known = sums.get(key);
    if (known === undefined) {
      const around = bits.filter((_, other) => cuts.partOf(other) === part);
      known = { every: around.every((one) => (one & mask) !== 0), some: around.some((one) => (one & mask) !== 0) };
      sums.set(key, known);
    }
    return known;
  };
  const floodAt: Plane['floodAt'] = (node, group, registered) =>
    reason((bits[node] ?? 0) & flooding(node, group, registered), group, node, registered);
  return {
    conduct,
    sinks,
    routers,
    sources,
    unplaced,
    asking,
    byHand,
    floodAt,
    floodsForgotten: (node, group) =>
      ((bits[node] ?? 0) & (UNQUERIED | UNREGISTERED)) !== 0 || floodAt(node, group, true) !== undefined,
    floodsUnqueried: (node) => sumOf(node, OFF | UNREGISTERED | UNQUERIED).every,
    floodsSomewhere: (node) => sumOf(node, OFF | UNREGISTERED | UNQUERIED).some,
    floodAround: (node, group, joined) => {
      const mask = flooding(node, group, joined);
      const own = (bits[node] ?? 0) & mask;
      if (isAlwaysFlooded(group) || sumOf(node, mask).every)
        return { everywhere: reason(own, group, node, joined), somewhere: true };
      return sumOf(node, flooding(node, group, false)).some ? FLOODED_SOMEWHERE : FLOODED_NOWHERE;
    },
  };
}

const LOCAL_4 = 0xe00000;
const ALL_NODES_6 = constantPrefix('ff02::1/128');

/**
 * RFC 4541 §2.1.2 (2): 224.0.0.x goes to every port. §3: of IPv6 the all-nodes address alone, as every other group of
 * link-local scope is reported (RFC 3810 §6).
 */
function isAlwaysFlooded(group: Address): boolean {
  return isIPv4(group) ? group >>> 8 === LOCAL_4 : inPrefix(group, ALL_NODES_6);
}

function sinksOf(
  segment: Segment,
  conduct: Conduct,
  cuts: CutTree,
): Pick<Plane, 'sinks' | 'routers' | 'sources' | 'unplaced'> {
  const sinks: Sink[] = [];
  // Only the winner of the election sends queries (RFC 3376 §6.6.2), so only towards it is a port a router port; what is
  // cut off elects its own.
  const placed = conduct.queriers.filter(canQuery).map((querier) => ({ querier, place: placeOf(segment, querier.on) }));
  for (const { querier, place } of placed) {
    if (place === undefined || querier.on === undefined) continue;
    const rivals = placed.filter((other) => other.place === undefined || cuts.joined(other.place.node, place.node));
    if (electedQuerier(rivals.map((rival) => rival.querier)) === querier)
      sinks.push({ ...place, why: 'querier', on: querier.on });
  }
  const routers = conduct.routers.flatMap((on): Sink[] => {
    const place = placeOf(segment, on);
    return place === undefined ? [] : [{ ...place, why: 'router', on }];
  });
  if (conduct.routed) sinks.push(...routers);
  const standby = placed.flatMap(({ querier, place }) =>
    place === undefined || querier.on === undefined || sinks.some((sink) => sink.on === querier.on)
      ? []
      : [{ ...place, why: 'querier' as const, on: querier.on }],
  );
  return {
    sinks,
    routers,
    sources: [...sinks, ...standby],
    unplaced:
      placed.some(({ place }) => place === undefined) ||
      (conduct.routed && !conduct.routers.some((router) => placeOf(segment, router) !== undefined)),
  };
}

interface Place {
  readonly node: number;
  readonly port: Interface | undefined;
}

function placeOf(segment: Segment, on: Switch | Device | undefined): Place | undefined {
  if (on === undefined) return undefined;
  if ('ports' in on) {
    const node = segment.nodeOf.get(on);
    return node === undefined ? undefined : { node, port: undefined };
  }
  const port = on.interfaces.find(
    (one) => one.vlan !== undefined && segment.domain.vlans.includes(one.vlan) && one.port !== undefined,
  );
  const node = port?.port === undefined ? undefined : segment.nodeOf.get(port.port.switch);
  return node === undefined ? undefined : { node, port };
}

/** Queries from 0.0.0.0 win no election and make no router port (RFC 4541 §2.1.1 (1)b). */
function canQuery({ address }: KnownQuerier): boolean {
  return address === undefined || BigInt(address) !== 0n;
}

/** Lowest address wins (RFC 3376 §6.6.2, RFC 3810 §7.6.2); queriers without an address count as planned, after those with one. */
export function electedQuerier(queriers: readonly KnownQuerier[]): KnownQuerier | undefined {
  let best: KnownQuerier | undefined;
  for (const one of queriers) {
    if (one.address === undefined || !canQuery(one)) continue;
    if (best?.address === undefined || (typeof one.address === typeof best.address && one.address < best.address))
      best = one;
  }
  return best ?? queriers.find(canQuery);
}

/** Whether the plan puts a box into other parts of the segment's VLANs and not into this one. */
function standsElsewhere(on: Switch | Device, segment: Segment, domains: Domains): boolean {
  const { domain } = segment;
  const stands = domain.vlans.flatMap((vlan) =>
    'ports' in on
      ? (domains.onSwitch(on, vlan) ?? [])
      : on.interfaces.filter((one) => one.vlan === vlan && domains.placed(one)).map((one) => domains.switched(one)),
  );
  return stands.length > 0 && !stands.includes(domain);
}
