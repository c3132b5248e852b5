/** Boxes that hold the only queriers of both networks of redundant streams. */
import { isNonEmpty, type NonEmpty } from '../../collections/non-empty.js';
import type { GroupManagement, Plan, Sender, Vlan } from '../../plan/types.js';
import type { Element } from './elements.js';
import type { Failures } from './failures.js';
import type { Network } from './flows.js';
import type { ForwardingSegment } from './ground.js';
import { sharedByLegs } from './shared-fate.js';

/** An element whose loss leaves both segments of some streams without a querier (RFC 3376 §8.4). */
export interface CommonQuerier {
  readonly element: Element;
  /** The VLANs of these segments that plan a querier. */
  readonly planned: NonEmpty<PlannedQuerier>;
  /** The streams with a leg in each of two of them. */
  readonly senders: readonly Sender[];
  /** Seconds until the last of them has forgotten who joined what (RFC 3376 §8.4). */
  readonly withinS: number;
  /** What all of them do then, `prune` where one does; undefined where the plan does not say. */
  readonly then: 'flood' | 'prune' | undefined;
}

export interface PlannedQuerier {
  readonly vlan: Vlan;
  readonly igmp: GroupManagement;
}

/** Worst failures first. Silent where the element is on the way of both legs anyway: that is the worse fault. */
export function commonQueriers(plan: Plan, network: Network, failures: Failures): readonly CommonQuerier[] {
  const suspects = failures.ranked.filter(({ queriersLost }) => queriersLost.length > 1);
  if (suspects.length === 0) return [];
  const forwardingOf = new Map(
    network.forwardings.flatMap((forwarding) =>
      forwarding.segment.domain.vlans.slice(0, 1).map((vlan) => [vlan, forwarding] as const),
    ),
  );
  const pairs = pairedSegments(plan, network);
  const shared = new Set(sharedByLegs(failures).map(({ element }) => element));
  return suspects.flatMap(({ element, queriersLost }) => {
    if (shared.has(element)) return [];
    const lost = new Set(queriersLost.flatMap((vlan) => forwardingOf.get(vlan) ?? []));
    const hit = pairs.filter(({ a, b }) => lost.has(a) && lost.has(b));
    if (hit.length === 0) return [];
    const forwardings = [...new Set(hit.flatMap(({ a, b }) => [a, b]))];
    const planned = forwardings.flatMap(plannedIn);
    if (!isNonEmpty(planned)) return [];
    const senders = [...new Set(hit.flatMap((pair) => pair.senders))];
    const withinS = Math.max(...forwardings.map(({ igmp }) => igmp.conduct.ageing.toS));
    return [{ element, planned, senders, withinS, then: unqueried(forwardings) }];
  });
}

function plannedIn({ segment }: ForwardingSegment): readonly PlannedQuerier[] {
  return segment.domain.vlans.flatMap((vlan) =>
    vlan.igmp !== undefined && vlan.igmp.queriers.length > 0 ? [{ vlan, igmp: vlan.igmp }] : [],
  );
}

function unqueried(forwardings: readonly ForwardingSegment[]): CommonQuerier['then'] {
  const all = forwardings.map(({ igmp }) => igmp.conduct.noQuerier);
  return all.includes('prune') ? 'prune' : all.includes(undefined) ? undefined : 'flood';
}

/** Two segments that carry legs of the same streams. */
interface Pair {
  readonly a: ForwardingSegment;
  readonly b: ForwardingSegment;
  readonly senders: readonly Sender[];
}

function pairedSegments({ senders }: Plan, network: Network): readonly Pair[] {
  const found = new Map<Vlan, Map<Vlan, Sender[]>>();
  const pairs: Pair[] = [];
  for (const sender of senders) {
    const [first, second] = sender.legs;
    if (first?.vlan === undefined || second?.vlan === undefined) continue;
    const others = found.get(first.vlan) ?? new Map<Vlan, Sender[]>();
    found.set(first.vlan, others);
    const known = others.get(second.vlan);
    if (known !== undefined) {
      known.push(sender);
      continue;
    }
    const alike = [sender];
    others.set(second.vlan, alike);
    const a = network.forwardingOf(first);
    const b = network.forwardingOf(second);
    if (a !== undefined && b !== undefined && a !== b) pairs.push({ a, b, senders: alike });
  }
  return pairs;
}
