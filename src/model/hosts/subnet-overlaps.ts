/** Subnets of VLANs that overlap, and which of them meet. */
import type { Plan, Vlan } from '../../plan/types.js';
import { addTo, append } from '../../collections/group-by.js';
import type { NonEmpty } from '../../collections/non-empty.js';
import { UnionFind } from '../../collections/union-find.js';
import { formatPrefix, inPrefix, rangeOf, type Prefix } from '../../values/address.js';
import { comparePrefixes } from './addressing.js';
import type { UnicastReach } from './unicast-reach.js';

/** A VLAN's subnet of one family. */
export interface SubnetEntry {
  readonly vlan: Vlan;
  readonly subnet: Prefix;
  readonly key: 'subnet' | 'subnet6';
}

/** Subnets that hang together by overlapping. */
export interface Overlap {
  readonly entries: NonEmpty<SubnetEntry>;
  /** Unicast passes between some of them, or a box stands in two: today already, not only once somebody joins them. */
  readonly meets: boolean;
}

/** Sorted so that a subnet comes right before those inside it. */
export function subnetEntries(plan: Plan, family: 'number' | 'bigint'): readonly SubnetEntry[] {
  const entries = [...plan.vlans, ...plan.transits].flatMap((vlan) =>
    (['subnet', 'subnet6'] as const).flatMap((key): SubnetEntry[] => {
      const subnet = vlan[key];
      return subnet === undefined || typeof subnet.network !== family ? [] : [{ vlan, subnet, key }];
    }),
  );
  return entries.sort((a, b) => comparePrefixes(a.subnet, b.subnet));
}

/**
 * Prefixes nest or are apart, so a walk in address order with the open subnets on a stack meets every overlap. Only
 * those are joined that share a box, a reachability, or at least a rig.
 */
export function overlapsOf(entries: readonly SubnetEntry[], plan: Plan, reach: UnicastReach): readonly Overlap[] {
  if (!anyOverlap(entries)) return [];
  const boxes = boxesOf(plan);
  const met = new UnionFind<SubnetEntry>();
  const meeting = new Set<SubnetEntry>();
  const open: SubnetEntry[] = [];
  const byToken = new Map<object, SubnetEntry[]>();
  const seen = new Map<string, Set<object>>();
  for (const entry of entries) {
    const ended = (one: SubnetEntry | undefined): one is SubnetEntry =>
      one !== undefined && rangeOf(one.subnet).last < entry.subnet.network;
    for (let top = open.at(-1); ended(top); top = open.at(-1)) {
      open.pop();
      for (const token of tokensOf(top)) byToken.get(token)?.pop();
    }
    if (isAgain(entry)) continue;
    const tokens = tokensOf(entry);
    for (const token of tokens) {
      const before = byToken.get(token)?.at(-1);
      if (before === undefined || before.vlan === entry.vlan) continue;
      met.union(before, entry);
      if (token !== entry.vlan.rig) meeting.add(entry);
    }
    open.push(entry);
    for (const token of tokens) append(byToken, token, entry);
  }
  const clusters = new Map<SubnetEntry, [SubnetEntry, ...SubnetEntry[]]>();
  for (const entry of entries) if (met.has(entry)) append(clusters, met.find(entry), entry);
  return [...clusters.values()].map((cluster) => ({
    entries: cluster,
    meets: cluster.some((entry) => meeting.has(entry)),
  }));

  function tokensOf({ vlan }: SubnetEntry): readonly object[] {
    return [vlan.rig, reach.joined(vlan), ...(boxes.get(vlan) ?? [])];
  }

  /** One VLAN written by two rigs, which links tie together; or one name written twice, which is a fault of its own. */
  function isAgain({ vlan, subnet }: SubnetEntry): boolean {
    const key = formatPrefix(subnet);
    const wire = reach.wire(vlan);
    const again = seen.get(key)?.has(wire) === true;
    addTo(seen, key, wire);
    return again;
  }
}

/** Prefixes nest or are apart, so the first of two that overlap holds all that come between them. */
function anyOverlap(entries: readonly SubnetEntry[]): boolean {
  let before: Prefix | undefined;
  for (const { subnet } of entries) {
    if (before !== undefined && inPrefix(subnet.network, before)) return true;
    before = subnet;
  }
  return false;
}

/** Devices with an interface in a VLAN. */
function boxesOf(plan: Plan): ReadonlyMap<Vlan, ReadonlySet<object>> {
  const boxes = new Map<Vlan, Set<object>>();
  for (const { vlan, device } of plan.interfaces) if (vlan !== undefined) addTo(boxes, vlan, device);
  return boxes;
}
