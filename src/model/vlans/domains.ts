/**
 * Who hears whom.
 *
 * A **switched domain** is what one VLAN floods over: the VLAN on every switch it really reaches over links, joined
 * with whatever an untagged port or an equal 802.1Q id ties to it. A **reachability domain** is the switched domains
 * that multicast routing joins. A network **as meant** is those that are joined, and those that would be if no VLAN were cut
 * in parts: a trunk that leaves a VLAN out is a slip, and what clashes behind it is found before it is mended. All are computed from links, trunks and routing where a plan states them, never from names.
 *
 * Where a plan is silent:
 * - a VLAN without links, or on a switch whose links nobody states, is one switched domain;
 * - a host on an unstated port of a VLAN in several parts stands where most of the VLAN's hosts do;
 * - a link of which neither an end nor the link itself states VLANs may carry any of them;
 * - a link end that states none carries what the other end does;
 * - an interface known only by its network belongs to that network as a whole;
 * - a leg of which nothing is known belongs to the path of its number (first legs with first legs, second with second).
 */
import { kept } from '../../collections/kept.js';
import { UnionFind } from '../../collections/union-find.js';
import type { Device, Join, Link, Network, Plan, Rig, Switch, Vlan } from '../../plan/types.js';
import type { Attached, Domain } from './domain.js';
import { describer } from './domain-names.js';
import { Nodes, type Node } from './domain-nodes.js';
import { knownVlans, pairsOf, saysNothing } from './link-vlans.js';
import { rememberingTwo } from './remembered.js';
import { statedVlans, type StatedVlans } from './stated-vlans.js';

export type { Attached, Domain } from './domain.js';

export interface Domains {
  /** The switched domain something stands in. */
  readonly switched: (attached: Attached) => Domain;
  /** The reachability domain something stands in. */
  readonly reach: (attached: Attached) => Domain;
  /** The same as it is meant: all parts of one VLAN entry, cut from each other or not, are one network. */
  readonly meant: (attached: Attached) => Domain;
  /** Whether the plan tells in which part of its VLAN something stands. */
  readonly placed: (attached: Attached) => boolean;
  /** Switched domain of a VLAN on a switch; undefined when the VLAN is not there. */
  readonly onSwitch: (owner: Switch, vlan: Vlan) => Domain | undefined;
  /** Switched domains that a link carries; where nobody states its VLANs, all that its switches know. */
  readonly overLink: (link: Link) => readonly Domain[];
  /** Two entries of the plan that are one VLAN on the network, each with what joins them. */
  readonly joins: readonly VlanJoin[];
}

/** Two VLAN entries joined by a link, by one switch that knows both under one 802.1Q id, or because the plan says so. */
export interface VlanJoin {
  readonly by: { readonly link: Link } | { readonly switch: Switch } | { readonly join: Join };
  /** True where equal 802.1Q ids join them, false where both go untagged. */
  readonly tagged: boolean;
  readonly vlans: readonly [Vlan, Vlan];
}

export function buildDomains(plan: Plan): Domains {
  const stated = statedVlans(plan);
  const nodes = new Nodes(plan, stated);
  const switched = new UnionFind<Node>();
  const allOf = knownVlans(plan, stated, (one) => nodes.clusterOf(one));
  const joins = joinAll(plan, stated, nodes, switched, allOf);
  for (const node of nodes.all()) switched.add(node);
  const reach = new UnionFind<Node>();
  for (const node of nodes.all()) reach.union(switched.find(node), node);
  joinRouted(plan, nodes, reach);
  joinNetworks(plan, nodes, reach);

  const switchedDomain = describer(switched, nodes, 'joined by links');
  let meantDomain: ReturnType<typeof describer> | undefined;
  const reachDomain = describer(reach, nodes, 'joined by routing');
  return {
    switched: rememberingTwo((attached) => switchedDomain(nodes.of(attached))),
    reach: rememberingTwo((attached) => reachDomain(nodes.of(attached))),
    meant: (attached) =>
      (meantDomain ??= describer(asMeant(plan, nodes, reach), nodes, 'joined by routing'))(nodes.of(attached)),
    placed: (attached) => {
      const places = attached.vlan === undefined ? [] : nodes.ofVlan(attached.vlan);
      return nodes.knownPlace(attached) !== undefined || new Set(places.map((node) => switched.find(node))).size === 1;
    },
    onSwitch: (owner, vlan) => {
      const node = nodes.known(owner, vlan);
      return node === undefined ? undefined : switchedDomain(node);
    },
    overLink: (link) => {
      const [a, b] = link.ends;
      if (a.switch === undefined || b.switch === undefined || a.switch === b.switch) return [];
      const owner = a.switch;
      const carried = saysNothing(link) ? allOf(owner) : pairsOf(link, allOf).map(({ vlans: [here] }) => here);
      return [...new Set(carried.flatMap((vlan) => nodes.known(owner, vlan) ?? []).map(switchedDomain))];
    },
    joins,
  };
}

/** Unites what links and equal ids join, and says which entries of the plan became one. */
function joinAll(
  plan: Plan,
  stated: StatedVlans,
  nodes: Nodes,
  switched: UnionFind<Node>,
  allOf: (owner: Switch) => readonly Vlan[],
): readonly VlanJoin[] {
  const joins: VlanJoin[] = [];
  for (const one of plan.switches) {
    const byId = new Map<number, Vlan>();
    for (const vlan of stated.on(one)) {
      if (vlan.id === undefined) continue;
      const first = byId.get(vlan.id);
      if (first === undefined) byId.set(vlan.id, vlan);
      else if (first !== vlan) {
        switched.union(nodes.on(one, first), nodes.on(one, vlan));
        joins.push({ by: { switch: one }, tagged: true, vlans: [first, vlan] });
      }
    }
  }
  for (const link of plan.links) {
    const [a, b] = link.ends;
    if (a.switch === undefined || b.switch === undefined) continue;
    for (const pair of pairsOf(link, allOf)) {
      const [here, there] = pair.vlans;
      switched.union(nodes.on(a.switch, here), nodes.on(b.switch, there));
      if (here !== there) joins.push({ by: { link }, ...pair });
    }
  }
  for (const join of plan.joins) {
    const [first, ...rest] = join.vlans;
    if (first === undefined) continue;
    for (const vlan of rest) {
      switched.union(nodes.likely(first), nodes.likely(vlan));
      joins.push({ by: { join }, tagged: true, vlans: [first, vlan] });
    }
  }
  return joins;
}

/** What is joined, and all parts of each VLAN entry. */
function asMeant(plan: Plan, nodes: Nodes, reach: UnionFind<Node>): UnionFind<Node> {
  const meant = new UnionFind<Node>();
  for (const node of nodes.all()) meant.union(reach.find(node), node);
  for (const vlan of plan.vlans) {
    const [first, ...rest] = nodes.ofVlan(vlan);
    if (first !== undefined) for (const node of rest) meant.union(first, node);
  }
  return meant;
}

/** Networks that are said to meet: whatever is sent in one may get to the other. */
function joinNetworks(plan: Plan, nodes: Nodes, reach: UnionFind<Node>): void {
  const at = new Map<Network, Node>();
  for (const join of plan.joins) {
    const meeting: Node = {};
    for (const network of join.networks) {
      const known = at.get(network);
      if (known === undefined) at.set(network, meeting);
      else reach.union(known, meeting);
      reach.union(nodes.of({ vlan: undefined, network }), meeting);
    }
  }
  if (at.size === 0) return;
  for (const vlan of plan.vlans) {
    const meeting = vlan.network === undefined ? undefined : at.get(vlan.network);
    if (meeting !== undefined) for (const node of nodes.ofVlan(vlan)) reach.union(node, meeting);
  }
}

function joinRouted(plan: Plan, nodes: Nodes, reach: UnionFind<Node>): void {
  const routers = new Map<Switch | Device | Rig, Node>();
  for (const vlan of [...plan.vlans, ...plan.transits]) {
    const { routing } = vlan;
    if (routing === undefined || routing.mode === 'none') continue;
    // Routers not named: whatever routes the rig's VLANs is taken for one router.
    for (const router of routing.routers.length > 0 ? routing.routers : [vlan.rig]) {
      const at = kept(routers, router, (): Node => ({}));
      for (const node of nodes.ofVlan(vlan)) reach.union(node, at);
    }
  }
}
