/**
 * IGMP and MLD by segment: for each switched domain, what its VLANs set, who queries and routes in it, and which groups
 * it carries. The two protocols are one in all but names and version numbers, so what judges one judges the other.
 */
import { append } from '../../collections/group-by.js';
import { kept } from '../../collections/kept.js';
import { once } from '../../collections/once.js';
import { inPrefix, isIPv4, isMulticast, type Address } from '../../values/address.js';
import type {
  Device,
  GroupManagement,
  Interface,
  Leg,
  Plan,
  Querier,
  ReceiverLeg,
  Switch,
  Vlan,
} from '../../plan/types.js';
import { constantPrefix } from '../../values/address-table.js';
import { type Addressing, isInterface, isLinkLocal } from '../hosts/index.js';
import type { Domain, Domains } from '../vlans/index.js';
import { forwardingAt, isToldOtherwise } from './conduct.js';
import type { Flow, Network } from './flows.js';
import type { ForwardingSegment } from './ground.js';
import { ageingAmong, membershipInterval } from './timers.js';
import type { Span } from '../../values/span.js';

export type Protocol = 'igmp' | 'mld';

/** IGMP or MLD settings and the VLAN that states them. */
export interface VlanSetting {
  readonly vlan: Vlan;
  readonly management: GroupManagement;
}

/** Somebody who sends queries in a segment: planned to, or because multicast routers do. */
export interface Candidate {
  readonly on: Switch | Device | undefined;
  readonly vlan: Vlan;
  /** As planned, else the lowest its box holds in the VLAN. */
  readonly address: Address | undefined;
  /** Absent for a router that nobody planned as querier. */
  readonly querier: Querier | undefined;
  /** The intended one of its VLAN: the first in the list. */
  readonly intended: boolean;
}

export interface GroupSegment {
  readonly protocol: Protocol;
  readonly domain: Domain;
  /** Absent where the plan puts no switch in it. */
  readonly forwarding: ForwardingSegment | undefined;
  readonly settings: readonly VlanSetting[];
  /** Off where any VLAN entry says so; undefined when none says. */
  readonly snooping: boolean | undefined;
  /** Queriers as planned, then routers that query because they route. */
  readonly candidates: readonly Candidate[];
  /** True where a multicast router queries too (RFC 3376 §1: queriers are multicast routers). */
  readonly routed: boolean;
  /** Legs sent from here to a group that snooping governs. */
  readonly sent: readonly Leg[];
  /** Receiver legs here that join such a group. */
  readonly taken: readonly ReceiverLeg[];
  /** Whether any leg is sent or taken here. Like both lists, found when asked for: ask after what costs less. */
  readonly carries: boolean;
  /** What its switches carry of them, as far as ports are known. */
  readonly flows: readonly Flow[];
  /** The same while inputs that switch take nothing. */
  readonly unchosen: readonly Flow[];
  /** Longest of its VLANs' membership intervals, in seconds. */
  readonly membershipS: number;
  /** Seconds from the loss of its querier until memberships are forgotten. */
  readonly ageing: Span;
}

export function buildGroupSegments(
  plan: Plan,
  domains: Domains,
  network: Network,
  addressing: Addressing,
): readonly GroupSegment[] {
  const forwardings = new Map(network.forwardings.map((forwarding) => [forwarding.segment.domain, forwarding]));
  const found = new Set<Domain>(forwardings.keys());
  for (const vlan of plan.vlans) found.add(domains.switched({ vlan, network: vlan.network }));
  // Few rules ask for legs and flows, and only of segments that look wrong already: they are sorted when the first one does.
  const sent = byProtocol((protocol) => governedByDomain(plan.legs, protocol, domains));
  const taken = byProtocol((protocol) => governedByDomain(plan.receiverLegs, protocol, domains));
  let sorted: ReadonlyMap<Domain, ByProtocol<Flow>> | undefined;
  const flowsIn = (domain: Domain, protocol: Protocol): readonly Flow[] =>
    (sorted ??= flowsByDomain(network.flows)).get(domain)?.[protocol] ?? [];
  let apart: typeof sorted;
  const unchosenIn = (domain: Domain, protocol: Protocol): readonly Flow[] => {
    const { unchosen } = network;
    if (unchosen === undefined) return flowsIn(domain, protocol);
    return (apart ??= flowsByDomain(unchosen)).get(domain)?.[protocol] ?? [];
  };
  return [...found]
    .filter((domain) => !isToldOtherwise(domain, forwardings.get(domain)?.segment.nodes ?? []))
    .flatMap((domain) =>
      (['igmp', 'mld'] as const).map((protocol): GroupSegment => {
        const settings = domain.vlans.flatMap((vlan) =>
          vlan[protocol] === undefined ? [] : [{ vlan, management: vlan[protocol] }],
        );
        return {
          protocol,
          domain,
          forwarding: forwardings.get(domain),
          settings,
          snooping: foldSnooping(settings),
          candidates: candidatesIn(domain, protocol, addressing),
          routed: domain.vlans.some(({ routing }) => routing !== undefined && routing.mode !== 'none'),
          get sent() {
            return sent[protocol]().get(domain) ?? NO_LEGS;
          },
          get taken() {
            return taken[protocol]().get(domain) ?? NO_LEGS;
          },
          get carries() {
            return this.sent.length > 0 || this.taken.length > 0;
          },
          get flows() {
            return flowsIn(domain, protocol);
          },
          get unchosen() {
            return unchosenIn(domain, protocol);
          },
          membershipS:
            Math.max(0, ...settings.map(({ management }) => membershipInterval(management))) ||
            membershipInterval(undefined),
          ageing: ageingAmong(settings.map(({ management }) => management)),
        };
      }),
    );
}

type ByProtocol<T> = Readonly<Record<Protocol, readonly T[]>>;

function emptyLists<T>(): Record<Protocol, T[]> {
  return { igmp: [], mld: [] };
}

const NO_LEGS: readonly never[] = [];

/** Legs of groups that snooping governs by a protocol, in plan order. */
function governedByDomain<T extends Leg | ReceiverLeg>(
  legs: readonly T[],
  protocol: Protocol,
  domains: Domains,
): ReadonlyMap<Domain, readonly T[]> {
  const found = new Map<Domain, T[]>();
  for (const leg of legs) {
    const { group } = leg;
    if (group === undefined || isIPv4(group) !== (protocol === 'igmp')) continue;
    if (leg.vlan !== undefined && isGoverned(group)) append(found, domains.switched(leg), leg);
  }
  return found;
}

function byProtocol<T>(build: (protocol: Protocol) => T): Readonly<Record<Protocol, () => T>> {
  return { igmp: once(() => build('igmp')), mld: once(() => build('mld')) };
}

function flowsByDomain(flows: readonly Flow[]): ReadonlyMap<Domain, ByProtocol<Flow>> {
  const found = new Map<Domain, Record<Protocol, Flow[]>>();
  for (const flow of flows) {
    const { group } = flow.leg;
    if (group === undefined || !isGoverned(group)) continue;
    kept(found, flow.forwarding.segment.domain, emptyLists<Flow>)[isIPv4(group) ? 'igmp' : 'mld'].push(flow);
  }
  return found;
}

/** 224.0.0.0/24 (RFC 5771 §4), as group >>> 8. */
const LOCAL_CONTROL_4 = 0xe00000;
const LINK_SCOPE_6 = constantPrefix('ff02::/16');

/** Whether snooping decides where a group goes: not for what every switch floods (RFC 4541 §2.1.2 rule 2, §3). */
function isGoverned(group: Address): boolean {
  if (isIPv4(group)) return group >>> 28 === 14 && group >>> 8 !== LOCAL_CONTROL_4;
  return isMulticast(group) && !inPrefix(group, LINK_SCOPE_6);
}

function foldSnooping(settings: readonly VlanSetting[]): boolean | undefined {
  const stated = settings.flatMap(({ management }) => management.snooping ?? []);
  return stated.length === 0 ? undefined : !stated.includes(false);
}

function candidatesIn(domain: Domain, protocol: Protocol, addressing: Addressing): readonly Candidate[] {
  const planned = domain.vlans.flatMap((vlan) =>
    (vlan[protocol]?.queriers ?? []).map((querier, index): Candidate => {
      const address = querier.address ?? lowest(addressesOn(querier.on, vlan, protocol, addressing));
      return { on: querier.on, vlan, address, querier, intended: index === 0 };
    }),
  );
  const named = new Set(planned.map(({ on }) => on));
  const routers = domain.vlans.flatMap((vlan) =>
    vlan.routing === undefined || vlan.routing.mode === 'none'
      ? []
      : vlan.routing.routers.map((on): Candidate => ({
          on,
          vlan,
          address: lowest(addressesOn(on, vlan, protocol, addressing)),
          querier: undefined,
          intended: false,
        })),
  );
  return [...planned, ...routers.filter(({ on }) => !named.has(on))];
}

/** Addresses a switch or device holds in a VLAN from which it can query: MLD queries come from link-local ones (RFC 3810 §5.1.14). */
export function addressesOn(
  box: Switch | Device | undefined,
  vlan: Vlan,
  protocol: Protocol,
  addressing: Addressing,
): readonly Address[] {
  return (addressing.byVlan.get(vlan) ?? [])
    .filter(
      ({ owner, address }) =>
        (isInterface(owner) ? owner.device : owner.switch) === box && canQueryFrom(address, protocol),
    )
    .map(({ address }) => address);
}

function canQueryFrom(address: Address, protocol: Protocol): boolean {
  return protocol === 'igmp' ? isIPv4(address) : !isIPv4(address) && isLinkLocal(address);
}

function lowest(addresses: readonly Address[]): Address | undefined {
  return addresses.length === 0 ? undefined : addresses.reduce((best, one) => (one < best ? one : best));
}

/** Who wins the election among those whose address is known: the lowest (RFC 3376 §6.6.2, RFC 3810 §7.6.2); 0.0.0.0 never does (RFC 4541 §2.1.1). */
export function electionWinner(candidates: readonly Candidate[], protocol: Protocol): Candidate | undefined {
  let best: Candidate | undefined;
  for (const one of candidates) {
    if (one.address === undefined || BigInt(one.address) === 0n || !canQueryFrom(one.address, protocol)) continue;
    if (best?.address === undefined || one.address < best.address) best = one;
  }
  return best;
}

/** What becomes of groups while nobody queries. */
export interface Unqueried {
  /** `flood`: every switch sends them everywhere. `prune`: they stop where a membership is forgotten. */
  readonly fate: 'flood' | 'prune';
  /** Switches that do not say, taken for pruning. */
  readonly assumed: readonly Switch[];
  /** True where the plan states it: all of them flood, or one of them prunes. */
  readonly stated: boolean;
}

/** A switch that floods what nobody joined floods a group once its members are forgotten, so it comes to the same. */
export function whileUnqueried(segment: GroupSegment): Unqueried {
  const { settings } = segment;
  const nodes = listening(segment);
  const ofVlan = settings.find(({ management }) => management.unregistered !== undefined)?.management.unregistered;
  const floods = (one: Switch): boolean => one.noQuerier === 'flood' || (ofVlan ?? one.unregistered) === 'flood';
  if (nodes.length > 0 && nodes.every(floods)) return { fate: 'flood', assumed: [], stated: true };
  const pruning = nodes.filter((one) => !floods(one));
  const assumed = pruning.filter(({ noQuerier }) => noQuerier === undefined);
  return { fate: 'prune', assumed, stated: assumed.length < pruning.length };
}

/** Its switches that forward by what receivers join. */
export function listening({ forwarding, domain }: GroupSegment): readonly Switch[] {
  return forwarding?.segment.nodes.filter((one) => forwardingAt(one, domain) === 'igmp') ?? [];
}

/** Interfaces that stand in a segment. */
export function hostsIn({ forwarding, domain }: GroupSegment, plan: Plan, domains: Domains): readonly Interface[] {
  if (forwarding !== undefined) return forwarding.segment.hostsAt.flat();
  return plan.interfaces.filter((one) => one.vlan !== undefined && domains.switched(one) === domain);
}
