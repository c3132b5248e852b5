/**
 * What a segment does with multicast, from the settings of its VLANs and switches (RFC 4541 §2.1.2, RFC 3376).
 *
 * Where the plan is silent the worse case is judged and the assumption kept, so that a finding can say what decided it.
 */
import { isIPv4, type Address } from '../../values/address.js';
import type { Device, Forwarding, Switch, Vlan } from '../../plan/types.js';
import { FILTERING_VERSION } from '../groups/index.js';
import type { Domain } from '../vlans/index.js';
import type { Segment } from './segment.js';
import { ageingAmong, membershipInterval } from './timers.js';
import type { Span } from '../../values/span.js';

export type Protocol = 'igmp' | 'mld';

/** Which of both governs a group; IPv4 where a stream is sent to one address. */
export function protocolOf(group: Address | undefined): Protocol {
  return group === undefined || isIPv4(group) ? 'igmp' : 'mld';
}

export interface KnownQuerier {
  readonly on: Switch | Device | undefined;
  readonly address: Address | undefined;
  readonly vlan: Vlan;
}

/** What one switch does; undefined where nobody says. */
export interface NodeConduct {
  readonly forwarding: Forwarding;
  readonly snooping: boolean | undefined;
  readonly unregistered: 'flood' | 'drop' | undefined;
  readonly noQuerier: 'flood' | 'prune' | undefined;
}

export interface Conduct {
  /** False: every frame goes everywhere. Undefined: not stated; taken for on. */
  readonly snooping: boolean | undefined;
  /** By node of the segment. */
  readonly nodes: readonly NodeConduct[];
  /** Queriers as planned, the intended one first. */
  readonly queriers: readonly KnownQuerier[];
  /** True where a multicast router queries too, as PIM routers do (RFC 7761 §4.1 builds on IGMP). */
  readonly routed: boolean;
  readonly routers: readonly (Switch | Device)[];
  /** Lowest IGMP or MLD version anything in it is set to. */
  readonly version: number | undefined;
  /** Whether groups nobody joined go everywhere; undefined when nobody says. */
  readonly unregistered: 'flood' | 'drop' | undefined;
  /** What happens while no querier is heard; undefined when nobody says. */
  readonly noQuerier: 'flood' | 'prune' | undefined;
  /** Switches that key their table by multicast MAC, so that 32 groups share an entry. */
  readonly keyedByMac: readonly Switch[];
  /**
   * True when every switch keys by source and group and hosts can ask for a source: below IGMPv3 reports name none
   * (RFC 2236 §2), and one older querier makes all hosts speak its version (RFC 3376 §7.2.1).
   */
  readonly keyedBySource: boolean;
  /** True when every switch is stated to tell apart groups of one multicast MAC. */
  readonly keyedByGroup: boolean;
  /** Seconds until a membership nobody renews is forgotten (RFC 3376 §8.4): robustness × query interval + response interval. */
  readonly membershipS: number;
  /** Seconds from the loss of the querier until memberships are forgotten: the widest of what its VLANs state. */
  readonly ageing: Span;
}

/**
 * Who tells a switch where the streams of some VLANs go, as far as that is not IGMP or MLD: what receivers join, who
 * queries and what ages then decide nothing at it. One VLAN that says otherwise is enough to need all that.
 */
export function forwardingAt(one: Pick<Switch, 'forwarding'> | undefined, { vlans }: Domain): Forwarding {
  // On a routed link goes what the router sends there, however its switch forwards elsewhere.
  if (vlans.length > 0 && vlans.every(({ transit }) => transit !== undefined)) return 'controlled';
  if (one?.forwarding !== undefined) return one.forwarding;
  const [first, ...rest] = vlans;
  return first?.forwarding !== undefined && rest.every(({ forwarding }) => forwarding === first.forwarding)
    ? first.forwarding
    : 'igmp';
}

/** Whether nothing in a domain forwards by what receivers join. */
export function isToldOtherwise(domain: Domain, switches: readonly Switch[]): boolean {
  return switches.length === 0
    ? forwardingAt(undefined, domain) !== 'igmp'
    : switches.every((one) => forwardingAt(one, domain) !== 'igmp');
}

/**
 * `elsewhere` tells of a switch or device that the plan puts into another part of the VLAN: what it sends is not heard here.
 */
export function conductOf(segment: Segment, protocol: Protocol, elsewhere: (on: Switch | Device) => boolean): Conduct {
  const { domain } = segment;
  const told = isToldOtherwise(domain, segment.nodes);
  const vlans = told ? [] : domain.vlans;
  const isHere = (on: Switch | Device | undefined): boolean => on === undefined || !elsewhere(on);
  const settings = vlans.flatMap((vlan) => vlan[protocol] ?? []);
  const versions = settings.flatMap((one) => one.version ?? []);
  const snooping = settings.some((one) => one.snooping === false)
    ? false
    : settings.some((one) => one.snooping === true)
      ? true
      : undefined;
  const asking = segment.nodes.filter((one) => forwardingAt(one, domain) === 'igmp');
  const onSwitches = asking.flatMap((one) => one.unregistered ?? []);
  const noQuerier = asking.flatMap((one) => one.noQuerier ?? []);
  const unregistered = settings.flatMap((one) => one.unregistered ?? []);
  const unbound = domain.vlans.flatMap((vlan) => vlan[protocol]?.unregistered ?? []);
  const ofVlans = worse(unregistered, 'flood', 'drop');
  const routed = domain.vlans.filter(
    ({ routing }) =>
      routing !== undefined &&
      routing.mode !== 'none' &&
      (routing.routers.length === 0 || routing.routers.some(isHere)),
  );
  return {
    snooping,
    queriers: vlans.flatMap((vlan) =>
      (vlan[protocol]?.queriers ?? []).filter(({ on }) => isHere(on)).map(({ on, address }) => ({ on, address, vlan })),
    ),
    routed: !told && routed.length > 0,
    routers: [...new Set(routed.flatMap(({ routing }) => (routing?.routers ?? []).filter(isHere)))],
    nodes: segment.nodes.map((one): NodeConduct => {
      const forwarding = forwardingAt(one, domain);
      if (forwarding === 'igmp')
        return {
          forwarding,
          snooping: one.snooping ?? snooping,
          unregistered: ofVlans ?? one.unregistered,
          noQuerier: one.noQuerier,
        };
      // A table of bound groups has unbound ones; a controller leaves nothing open.
      const others = forwarding === 'static' ? (one.unregistered ?? worse(unbound, 'flood', 'drop')) : undefined;
      return { forwarding, snooping: undefined, unregistered: others, noQuerier: undefined };
    }),
    version: versions.length === 0 ? undefined : Math.min(...versions),
    unregistered: told
      ? undefined
      : worse([...unregistered, ...(unregistered.length === 0 ? onSwitches : [])], 'flood', 'drop'),
    noQuerier: worse(noQuerier, 'flood', 'prune'),
    keyedByMac: segment.nodes.filter((one) => one.snoopingKey === 'mac'),
    keyedBySource:
      segment.nodes.length > 0 &&
      versions.every((version) => version >= FILTERING_VERSION[protocol]) &&
      segment.nodes.every((one) => one.snoopingKey === 'source-group'),
    keyedByGroup:
      segment.nodes.length > 0 &&
      segment.nodes.every((one) => one.snoopingKey === 'group' || one.snoopingKey === 'source-group'),
    membershipS: Math.max(0, ...settings.map(membershipInterval)) || membershipInterval(undefined),
    ageing: ageingAmong(settings),
  };
}

function worse<T extends string>(stated: readonly T[], bad: T, good: T): T | undefined {
  return stated.includes(bad) ? bad : stated.includes(good) ? good : undefined;
}

/**
 * Why a switch forwards a stream everywhere in the segment; undefined when it does not. `silent receiver`: sent to one
 * address whose MAC the switches forget, as nothing comes from it (IEEE 802.1D-2004 §7.9.2, table 7-5: 300 s).
 */
export type FloodReason = 'snooping off' | 'flooded address' | 'no querier' | 'unregistered' | 'silent receiver';

/**
 * Whether streams are taken to be flooded for their address only because no switch says how it keys its table: one that
 * keys by group floods no more than 224.0.0.x and its like (RFC 4541 §2.1.2 (2)).
 */
export function keyAssumed({ keyedByGroup, keyedByMac }: Conduct, reasons: ReadonlySet<FloodReason>): boolean {
  return reasons.has('flooded address') && !keyedByGroup && keyedByMac.length === 0;
}
