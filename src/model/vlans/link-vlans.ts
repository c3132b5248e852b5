/**
 * Which VLANs links tie together. IEEE 802.1Q-2022 6.9 says which VLAN a frame belongs to on ingress, 8.6 which ports
 * send it on egress, tagged or not.
 */
import { kept } from '../../collections/kept.js';
import type { Link, LinkEnd, Plan, Port, Switch, Vlan } from '../../plan/types.js';
import type { StatedVlans } from './stated-vlans.js';
import { saysVlans, tagged, tagOf, untagged, type Tag } from './trunks.js';

/** Whether a link may carry any VLAN, because neither it nor its ends state one. */
export function saysNothing(link: Link): boolean {
  const [a, b] = link.ends;
  if (link.transit !== undefined) return false;
  return (
    a.port === undefined ||
    b.port === undefined ||
    (link.vlans === undefined && !saysVlans(a.port) && !saysVlans(b.port))
  );
}

export interface Pair {
  readonly tagged: boolean;
  readonly vlans: readonly [Vlan, Vlan];
}

/** Pairs of VLAN entries a link ties together: equal ids tagged on both ends, what both send untagged, its own network. */
export function pairsOf(link: Link, allOf: (owner: Switch) => readonly Vlan[]): readonly Pair[] {
  const { transit } = link;
  if (transit === undefined) return switchedPairs(link, allOf);
  const others = switchedPairs(link, allOf).filter(({ vlans: [vlan] }) => vlan !== transit);
  return [{ tagged: false, vlans: [transit, transit] }, ...others];
}

function switchedPairs(link: Link, allOf: (owner: Switch) => readonly Vlan[]): readonly Pair[] {
  const [a, b] = link.ends;
  if (a.port === undefined || b.port === undefined) return [];
  const silentA = !saysVlans(a.port);
  const silentB = !saysVlans(b.port);
  // A silent end carries what the other does, a silent link what its ends do.
  if (silentA && silentB) return (link.vlans ?? []).map((vlan) => ({ tagged: true, vlans: [vlan, vlan] }));
  const carried = link.vlans === undefined ? undefined : new Set(link.vlans.map(tagOf));
  const passes = (vlan: Vlan): boolean => carried === undefined || carried.has(tagOf(vlan));
  if (silentA || silentB) {
    const says = silentA ? b : a;
    return [...taggedAt(says, allOf), ...untaggedOf(says.port)]
      .filter(passes)
      .map((vlan) => ({ tagged: true, vlans: [vlan, vlan] }));
  }
  const pairs: Pair[] = [];
  const there = new Map<Tag, Vlan>();
  for (const vlan of taggedAt(b, allOf)) if (!there.has(tagOf(vlan))) there.set(tagOf(vlan), vlan);
  for (const vlan of taggedAt(a, allOf)) {
    const other = there.get(tagOf(vlan));
    if (other !== undefined && passes(vlan)) pairs.push({ tagged: true, vlans: [vlan, other] });
  }
  const plainHere = untagged(a.port);
  const plainThere = untagged(b.port);
  if (plainHere !== undefined && plainThere !== undefined)
    pairs.push({ tagged: false, vlans: [plainHere, plainThere] });
  return pairs;
}

function taggedAt(end: LinkEnd, allOf: (owner: Switch) => readonly Vlan[]): readonly Vlan[] {
  const { port } = end;
  if (port === undefined) return [];
  return port.trunk === 'all' ? allOf(port.switch).filter((vlan) => vlan !== port.native) : tagged(port);
}

/**
 * The VLANs a switch knows, which are what `trunk: all` carries: those the plan puts on it, and those that get to it
 * over other trunks. An id that arrives under two names is known by the switch's own, else by the first.
 */
export function knownVlans(
  plan: Plan,
  stated: StatedVlans,
  clusterOf: (one: Switch) => Switch,
): (owner: Switch) => readonly Vlan[] {
  const known = new Map<Switch, Map<Tag, Vlan>>();
  const queue: { readonly at: Switch; readonly vlan: Vlan }[] = [];
  const learn = (one: Switch, vlan: Vlan): void => {
    const at = clusterOf(one);
    const byTag = kept(known, at, () => new Map<Tag, Vlan>());
    if (byTag.has(tagOf(vlan))) return;
    byTag.set(tagOf(vlan), vlan);
    queue.push({ at, vlan });
  };
  const ways = waysIntoAll(plan, clusterOf);
  for (const one of plan.switches) for (const vlan of stated.on(one)) learn(one, vlan);
  for (const [port, vlan] of stated.patched) learn(port.switch, vlan);
  for (const { at, vlan } of queue) {
    for (const way of ways.get(at) ?? []) if (way.passes(vlan)) learn(way.to, vlan);
  }
  return (owner) => [...(known.get(clusterOf(owner))?.values() ?? [])];
}

function untaggedOf(port: Port | undefined): readonly Vlan[] {
  const vlan = untagged(port);
  return vlan === undefined ? [] : [vlan];
}

interface Way {
  readonly to: Switch;
  readonly passes: (vlan: Vlan) => boolean;
}

/** Link directions whose far end takes whatever comes, by the switch they start from. */
function waysIntoAll(plan: Plan, clusterOf: (one: Switch) => Switch): ReadonlyMap<Switch, readonly Way[]> {
  const ways = new Map<Switch, Way[]>();
  for (const link of plan.links) {
    for (const [near, far] of [link.ends, [link.ends[1], link.ends[0]] as const]) {
      const from = near.port;
      const to = far.port;
      if (from === undefined || to === undefined) continue;
      const silent = !saysVlans(to);
      if (to.trunk !== 'all' && !silent) continue;
      const tags =
        from.trunk === 'all' || !saysVlans(from)
          ? undefined
          : new Set([...tagged(from), ...(silent ? untaggedOf(from) : [])].map(tagOf));
      const carried = link.vlans === undefined ? undefined : new Set(link.vlans.map(tagOf));
      const passes = (vlan: Vlan): boolean =>
        (tags === undefined || tags.has(tagOf(vlan))) && (carried === undefined || carried.has(tagOf(vlan)));
      kept(ways, clusterOf(from.switch), (): Way[] => []).push({ to: to.switch, passes });
    }
  }
  return ways;
}
