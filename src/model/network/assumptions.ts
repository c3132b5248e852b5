/**
 * What the network model took for granted because the plan does not say, as far as it mattered for this plan: only in
 * segments that carry streams, and only where another answer could have changed a judgement.
 */
import { kept } from '../../collections/kept.js';
import type { Address } from '../../values/address.js';
import type { Leg, Plan, Switch } from '../../plan/types.js';
import {
  ethernetAddress,
  type GroupIndex,
  isSourceSpecific,
  isSourceSpecificFor,
  severalToldApart,
} from '../groups/index.js';
import { unusualInterfaces } from '../hosts/index.js';
import { unusualLegs } from '../streams/index.js';
import type { Network } from './flows.js';
import type { ForwardingSegment } from './ground.js';
import { listening, whileUnqueried, type GroupSegment, type Protocol } from './group-segments.js';
import { loneQuerier } from './lone-querier.js';
import { isAssumedTree, type TreeDoubt } from './loops.js';
import { across } from './segment.js';
import { forwardingBoxes } from './unicast-route.js';
import { openChoices } from './open-choices.js';
import type { RoutedReception } from './routed-receptions.js';

/** One fact with everything it was assumed of. */
export type Assumption =
  | { readonly fact: 'snooping'; readonly protocol: Protocol; readonly vlans: readonly string[] }
  | { readonly fact: 'noQuerier' | 'unregistered' | 'snoopingKey'; readonly switches: readonly string[] }
  | {
      readonly fact: 'spanningTree';
      readonly root: string;
      readonly vlans: readonly string[];
      /** What is not stated of it. */
      readonly doubts: readonly TreeDoubt[];
    }
  | { readonly fact: 'unicastRoute'; readonly boxes: readonly string[] }
  /** Routers that have equal paths for some stream. */
  | { readonly fact: 'equalPaths'; readonly spread: boolean; readonly routers: readonly string[] }
  /** VLANs whose receivers one of several routers serves, by an address nobody states. */
  | { readonly fact: 'designatedRouter'; readonly vlans: readonly string[] }
  /** Routers with an interface that states no metric, where others state one. */
  | { readonly fact: 'metric'; readonly routers: readonly string[] }
  /** Streams of any source that pass several routers: counted by their shortest way, not by the rendezvous point. */
  | { readonly fact: 'switchover'; readonly streams: number }
  /** Routers between others: what their loss would put on other links is not judged. */
  | { readonly fact: 'routerLoss'; readonly routers: readonly string[] }
  /** Switches that act as one towards an aggregate: which of them a stream comes to is not followed. */
  | { readonly fact: 'pairWay'; readonly switches: readonly string[] }
  /** Devices with streams on a member of a bond: followed on that member's own port, as if it stood alone. */
  | { readonly fact: 'bond'; readonly devices: readonly string[] }
  /** Networks for management, taken to carry no PTP of a domain that states none. */
  | { readonly fact: 'ptpNetworks'; readonly domain: number; readonly networks: readonly string[] }
  /** VLANs whose gateway nobody in the plan has: that of a router which the plan leaves out. */
  | { readonly fact: 'gateway'; readonly vlans: readonly string[] };

/** `boxes`: those that streams to one address pass beyond their gateway, by the fewest boxes. */
export function findAssumptions(
  plan: Plan,
  segments: readonly GroupSegment[],
  network: Network,
  groups: GroupIndex,
  routed: readonly RoutedReception[] = [],
): readonly Assumption[] {
  const placed = segments.filter(({ forwarding }) => forwarding !== undefined);
  const snooped = placed.filter(({ snooping }) => snooping !== false);
  const shared = sharedGrounds(network, groups);
  const found: Assumption[] = [];
  for (const protocol of ['igmp', 'mld'] as const) {
    const silent = snooped.filter((one) => one.protocol === protocol && one.snooping === undefined);
    const vlans = silent.filter(carries).flatMap(namesOf);
    if (vlans.length > 0) found.push({ fact: 'snooping', protocol, vlans: [...new Set(vlans)] });
  }
  const switches = {
    noQuerier: snooped.filter(dependsOnQuerier).flatMap((one) => whileUnqueried(one).assumed),
    unregistered: snooped.flatMap(silentOnUnregistered),
    snoopingKey: snooped.flatMap((one) => {
      const silent = silentOnKey(one);
      if (silent.length === 0 || one.forwarding === undefined || !carries(one)) return [];
      return shared.has(one.forwarding) || hasAliases(one) ? silent : [];
    }),
  };
  for (const fact of ['noQuerier', 'unregistered', 'snoopingKey'] as const) {
    const names = [...new Set(switches[fact])].map(({ name }) => name);
    if (names.length > 0) found.push({ fact, switches: names });
  }
  found.push(...loops(placed.filter((one) => one.forwarding?.parts.some(isAssumedTree) === true && carries(one))));
  const paired = [
    ...new Set(placed.filter((one) => pairedSwitches(one).length > 0 && carries(one)).flatMap(pairedSwitches)),
  ].map(({ name }) => name);
  if (paired.length > 0) found.push({ fact: 'pairWay', switches: paired });
  const bonded = bondedDevices(plan);
  if (bonded.length > 0) found.push({ fact: 'bond', devices: bonded });
  const boxes = chainedBoxes(plan, network);
  if (boxes.length > 0) found.push({ fact: 'unicastRoute', boxes });
  return routed.length === 0 ? found : [...found, ...ofRouters(network, routed)];
}

function ofRouters({ routing }: Network, routed: readonly RoutedReception[]): readonly Assumption[] {
  const found: Assumption[] = [];
  const choosing = [...openChoices(routed).keys()];
  for (const spread of [false, true]) {
    const routers = choosing.filter(({ rig }) => (rig.practice.equalPaths === 'spread') === spread);
    if (routers.length > 0) found.push({ fact: 'equalPaths', spread, routers: routers.map(({ name }) => name) });
  }
  const unsure = routed.flatMap(({ taker, way }) =>
    way.kind === 'way' && !way.designated.sure && taker.vlan !== undefined ? [taker.vlan.name] : [],
  );
  if (unsure.length > 0) found.push({ fact: 'designatedRouter', vlans: [...new Set(unsure)] });
  const silent = routing.feet.some(({ metric }) => metric !== undefined)
    ? routing.feet.filter(({ metric, ground }) => metric === undefined && isBetweenRouters(ground))
    : [];
  if (silent.length > 0) found.push({ fact: 'metric', routers: [...new Set(silent.map(({ on }) => on.name))] });
  const shared = routed.filter(
    ({ leg, taker, way }) =>
      way.kind === 'way' &&
      way.stages.length > 2 &&
      isAnySource(leg) &&
      taker.source === undefined &&
      taker.join !== 'stated',
  );
  if (shared.length > 0) found.push({ fact: 'switchover', streams: new Set(shared.map(({ leg }) => leg)).size });
  const between = new Set(
    routed.flatMap(({ way }) =>
      way.kind === 'way' ? way.stages.flatMap(({ router }) => router ?? []).slice(1, -1) : [],
    ),
  );
  if (between.size > 0) found.push({ fact: 'routerLoss', routers: [...between].map(({ name }) => name) });
  return found;
}

function isBetweenRouters({ segment }: Pick<ForwardingSegment, 'segment'>): boolean {
  return segment.domain.vlans.some(({ routing }) => (routing?.routers.length ?? 0) > 1);
}

function isAnySource({ group, sender }: Leg): boolean {
  return group !== undefined && !isSourceSpecificFor(sender.rig, group) && !isSourceSpecific(group);
}

/** A plan states no unicast routes: between the VLANs of one box none is needed, beyond it one is. */
function chainedBoxes(plan: Plan, network: Network): readonly string[] {
  const found = new Set<string>();
  for (const leg of unusualLegs(plan).groupless) {
    const route = network.routeOf(leg);
    const hops = route === undefined ? [] : forwardingBoxes(route);
    if (hops.length > 1) for (const { into } of hops) found.add(into.on.name);
  }
  return [...found];
}

/** Devices whose streams use a member of a bond. */
function bondedDevices(plan: Plan): readonly string[] {
  if (unusualInterfaces(plan).bonded.length === 0) return [];
  const found = new Set<string>();
  for (const { interface: via } of [...plan.legs, ...plan.receiverLegs])
    if (via?.bond !== undefined) found.add(via.device.name);
  return [...found];
}

/** Asked where little else is: it takes sorting all legs of a plan. */
function carries(segment: GroupSegment): boolean {
  return segment.carries;
}

function namesOf({ domain }: GroupSegment): readonly string[] {
  return domain.vlans.map(({ name }) => name);
}

/** Its switches hear no querier, or will not when the only one fails. */
function dependsOnQuerier(segment: GroupSegment): boolean {
  const { candidates, routed, snooping } = segment;
  if (candidates.length === 0) return !routed && snooping === true && carries(segment);
  return candidates.length === 1 && carries(segment) && loneQuerier(segment) !== undefined;
}

/** Switches that decide about streams nobody takes, where neither they nor the VLAN say what they do. */
function silentOnUnregistered(segment: GroupSegment): readonly Switch[] {
  if (segment.settings.some(({ management }) => management.unregistered !== undefined)) return [];
  const silent = listening(segment).filter(({ unregistered }) => unregistered === undefined);
  if (silent.length === 0 || !carries(segment)) return [];
  return segment.unchosen.some(({ receivers, flood }) => receivers.length === 0 && flood === undefined) ? silent : [];
}

function silentOnKey(segment: GroupSegment): readonly Switch[] {
  return listening(segment).filter(({ snoopingKey }) => snoopingKey === undefined);
}

/** Segments in which senders of one group are to be told apart by source. */
function sharedGrounds(network: Network, groups: GroupIndex): ReadonlySet<ForwardingSegment> {
  const found = new Set<ForwardingSegment>();
  for (const use of groups.shared) {
    if (!severalToldApart(use)) continue;
    for (const leg of use.legs) for (const { forwarding } of network.flowsOf(leg)) found.add(forwarding);
  }
  return found;
}

/** Whether two groups share a multicast MAC, which tables keyed by it cannot tell apart (RFC 1112 §6.4). */
function hasAliases(segment: GroupSegment): boolean {
  const byEthernet = new Map<number, Address>();
  for (const { leg } of segment.flows) {
    if (leg.group === undefined) continue;
    const key = ethernetAddress(leg.group);
    const known = byEthernet.get(key);
    if (known === undefined) byEthernet.set(key, leg.group);
    else if (known !== leg.group) return true;
  }
  return false;
}

/** Switches of a pair that both end links of one other switch: it sends each stream to one of them, by a sum of its own. */
function pairedSwitches({ forwarding }: GroupSegment): readonly Switch[] {
  if (forwarding === undefined) return [];
  const { nodes, edgesAt } = forwarding.segment;
  return nodes.flatMap((near, node) => {
    const beyond = (edgesAt[node] ?? []).flatMap((edge) => nodes[across(edge, node)] ?? []);
    return beyond.filter(
      ({ pair }, index) =>
        pair !== undefined && near.pair !== pair && beyond.some((other, at) => at !== index && other.pair === pair),
    );
  });
}

/** VLANs whose links are part of a loop, by what is not stated of its spanning tree. */
function loops(segments: readonly GroupSegment[]): readonly (Assumption & { readonly fact: 'spanningTree' })[] {
  const found = new Map<string, { root: string; doubts: readonly TreeDoubt[]; vlans: Set<string> }>();
  for (const { forwarding, domain } of segments) {
    for (const { layout } of forwarding?.parts.filter(isAssumedTree) ?? []) {
      const root = forwarding?.segment.nodes.map(layout.rootOf).find((switched) => switched !== undefined);
      if (root === undefined) continue;
      const { vlans } = kept(found, `${root.name} ${layout.doubts.join(' ')}`, () => ({
        root: root.name,
        doubts: layout.doubts,
        vlans: new Set<string>(),
      }));
      for (const { name } of domain.vlans) vlans.add(name);
    }
  }
  return [...found.values()].map(({ vlans, ...own }) => ({ fact: 'spanningTree', ...own, vlans: [...vlans] }));
}
