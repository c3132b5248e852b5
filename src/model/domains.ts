/**
 * Who hears whom.
 *
 * A **switched domain** is what one VLAN floods over: the VLAN on every switch it really reaches over links, joined with
 * whatever an untagged port or an equal 802.1Q id on the other end of a link ties to it. A **reachability domain** is the
 * switched domains that multicast routing joins. Both are computed from links, trunks and routing where a plan states
 * them, never from names.
 *
 * Where a plan is silent: a VLAN without links or with hosts on unstated ports is one switched domain; an interface
 * known only by its network belongs to that network as a whole; a leg of which nothing is known belongs to the path of
 * its number (first legs with first legs, second with second).
 */
import type { Device, Interface, Link, LinkEnd, Network, Plan, Port, Switch, Vlan } from '../plan/types.js';
import { UnionFind } from './union-find.js';

export interface Domain {
  /** For people: `VLAN red-video`, `VLANs red-audio and red-video (routed)`, `network red`, `first legs`. */
  readonly title: string;
  /** Stable short name for subject keys: a network's or VLAN's name. */
  readonly key: string;
  readonly vlans: readonly Vlan[];
}

/** Anything that stands somewhere on the network: a sender leg, a receiver leg or an interface. */
export interface Attached {
  readonly interface?: Interface | undefined;
  readonly vlan: Vlan | undefined;
  readonly network: Network | undefined;
  /** Leg number from 0; an interface counts as a first leg. */
  readonly index?: number;
}

export interface Domains {
  /** The switched domain something stands in. */
  readonly switched: (attached: Attached) => Domain;
  /** The reachability domain something stands in. */
  readonly reach: (attached: Attached) => Domain;
  /** Switched domain of a VLAN on a switch; undefined when the VLAN is not there. */
  readonly onSwitch: (owner: Switch, vlan: Vlan) => Domain | undefined;
  /** True when the plan states how its switches are linked, so that a missing path is a fault and not a missing fact. */
  readonly linked: boolean;
  /** VLANs that tagging or an untagged link joins although they are two entries of the plan, with the links that do it. */
  readonly joins: readonly VlanJoin[];
}

export interface VlanJoin {
  readonly link: Link;
  readonly vlans: readonly [Vlan, Vlan];
}

/** A VLAN as one entry, a VLAN on one switch, a network without VLANs, a path of which nothing is known, or a router. */
type Node = string;

export function buildDomains(plan: Plan): Domains {
  const names = new Names();
  const switched = new UnionFind<Node>();
  const joins: VlanJoin[] = [];
  const whole = wholeVlans(plan);
  const members = new Map<Node, Vlan>();

  const onSwitch = (owner: Switch, vlan: Vlan): Node => {
    const node = whole.has(vlan) ? names.of('vlan', vlan) : `${names.of('switch', owner)} ${names.of('vlan', vlan)}`;
    members.set(node, vlan);
    switched.add(node);
    return node;
  };
  for (const vlan of plan.vlans) {
    const node = names.of('vlan', vlan);
    members.set(node, vlan);
    switched.add(node);
  }
  for (const one of plan.switches) {
    for (const port of one.ports.values()) for (const vlan of vlansOfPort(port)) onSwitch(one, vlan);
    for (const held of one.addresses) if (held.vlan !== undefined) onSwitch(one, held.vlan);
  }
  for (const link of plan.links) {
    for (const [a, b] of joinedBy(link, plan)) {
      const [first, second] = link.ends;
      if (first.switch === undefined || second.switch === undefined) continue;
      switched.union(onSwitch(first.switch, a), onSwitch(second.switch, b));
      if (a !== b) joins.push({ link, vlans: [a, b] });
    }
  }

  const nodeOf = (attached: Attached): Node => {
    const { vlan, network } = attached;
    if (vlan !== undefined) {
      const port = attached.interface?.port;
      const node = port === undefined || whole.has(vlan) ? names.of('vlan', vlan) : `${names.of('switch', port.switch)} ${names.of('vlan', vlan)}`;
      if (!members.has(node)) members.set(node, vlan);
      return node;
    }
    if (network !== undefined) {
      const own = vlansOf.get(network);
      return own !== undefined && own.length === 1 && own[0] !== undefined ? names.of('vlan', own[0]) : names.of('network', network);
    }
    return `path ${(attached.index ?? 0) + 1}`;
  };
  const vlansOf = groupBy(plan.vlans, (vlan) => vlan.network);

  const reach = new UnionFind<Node>();
  for (const node of switched.nodes()) reach.union(node, switched.find(node));
  for (const vlan of plan.vlans) {
    const { routing } = vlan;
    if (routing === undefined || routing.mode === 'none') continue;
    // Routers not named: whatever routes the rig's VLANs is taken for one router.
    const routers = routing.routers.length > 0 ? routing.routers.map((router) => names.of('router', router)) : [`router of ${names.of('rig', vlan.rig)}`];
    for (const router of routers) {
      reach.union(router, names.of('vlan', vlan));
      for (const node of nodesOfVlan(vlan)) reach.union(router, node);
    }
  }

  function nodesOfVlan(vlan: Vlan): Node[] {
    return whole.has(vlan) ? [names.of('vlan', vlan)] : plan.switches.map((one) => `${names.of('switch', one)} ${names.of('vlan', vlan)}`).filter((node) => members.has(node));
  }

  const switchedDomain = describer(switched, members, names, false);
  const reachDomain = describer(reach, members, names, true);
  return {
    switched: cached((attached) => switchedDomain(nodeOf(attached))),
    reach: cached((attached) => reachDomain(nodeOf(attached))),
    onSwitch: (owner, vlan) => {
      const node = whole.has(vlan) ? names.of('vlan', vlan) : `${names.of('switch', owner)} ${names.of('vlan', vlan)}`;
      return members.has(node) ? switchedDomain(node) : undefined;
    },
    linked: plan.links.length > 0,
    joins,
  };
}

/** Asks once per VLAN and switch: thousands of legs stand in the same place. */
function cached(find: (attached: Attached) => Domain): (attached: Attached) => Domain {
  const byVlan = new Map<Vlan, Map<Switch | undefined, Domain>>();
  return (attached) => {
    const { vlan } = attached;
    if (vlan === undefined) return find(attached);
    let bySwitch = byVlan.get(vlan);
    if (bySwitch === undefined) byVlan.set(vlan, (bySwitch = new Map<Switch | undefined, Domain>()));
    const owner = attached.interface?.port?.switch;
    let domain = bySwitch.get(owner);
    if (domain === undefined) bySwitch.set(owner, (domain = find(attached)));
    return domain;
  };
}

/** VLANs taken as one switched domain because the plan does not say enough to tell their parts apart. */
function wholeVlans(plan: Plan): ReadonlySet<Vlan> {
  if (plan.links.length === 0) return new Set(plan.vlans);
  const whole = new Set<Vlan>();
  const onPorts = new Set<Vlan>();
  for (const one of plan.switches) for (const port of one.ports.values()) for (const vlan of vlansOfPort(port)) onPorts.add(vlan);
  for (const link of plan.links) for (const vlan of link.vlans ?? []) onPorts.add(vlan);
  for (const vlan of plan.vlans) if (!onPorts.has(vlan)) whole.add(vlan);
  for (const one of plan.interfaces) if (one.vlan !== undefined && one.port === undefined) whole.add(one.vlan);
  for (const leg of plan.legs) if (leg.vlan !== undefined && leg.interface === undefined) whole.add(leg.vlan);
  for (const link of plan.links) {
    // A link whose VLANs nobody states may carry any of them.
    for (const end of link.ends) if (link.vlans === undefined && end.port !== undefined && !saysVlans(end.port)) for (const vlan of plan.vlans) whole.add(vlan);
  }
  return whole;
}

/** VLANs of a port, `all` being every VLAN of the switch's rig. */
export function vlansOfPort(port: Port): readonly Vlan[] {
  const tagged = port.trunk === undefined || port.trunk === 'all' ? [] : port.trunk;
  return [...(port.access === undefined ? [] : [port.access]), ...tagged, ...(port.native === undefined ? [] : [port.native])];
}

export function saysVlans(port: Port): boolean {
  return port.access !== undefined || port.trunk !== undefined || port.native !== undefined;
}

/** What a link end sends untagged. */
export function untagged(port: Port | undefined): Vlan | undefined {
  return port?.access ?? port?.native;
}

/** Pairs of VLAN entries a link ties together: equal ids tagged on both ends, and what both send untagged. */
function joinedBy(link: Link, plan: Plan): readonly (readonly [Vlan, Vlan])[] {
  const [a, b] = link.ends;
  const carried = link.vlans === undefined ? undefined : new Set(link.vlans.map(tagOf));
  const here = taggedAt(a, link, plan);
  const there = taggedAt(b, link, plan);
  const pairs: (readonly [Vlan, Vlan])[] = [];
  for (const [tag, vlan] of here) {
    const other = there.get(tag);
    if (other !== undefined && (carried === undefined || carried.has(tag))) pairs.push([vlan, other]);
  }
  const plainHere = untagged(a.port);
  const plainThere = untagged(b.port);
  if (plainHere !== undefined && plainThere !== undefined) pairs.push([plainHere, plainThere]);
  return pairs;
}

/** What tells VLANs apart on a trunk: the 802.1Q id, or the entry itself where the plan gives no id. */
function tagOf(vlan: Vlan): number | Vlan {
  return vlan.id ?? vlan;
}

function taggedAt(end: LinkEnd, link: Link, plan: Plan): ReadonlyMap<number | Vlan, Vlan> {
  const { port } = end;
  const rig = end.switch?.rig;
  const vlans = port?.trunk === 'all' ? plan.vlans.filter((vlan) => vlan.rig === rig)
    : port?.trunk !== undefined ? port.trunk
      : port !== undefined && saysVlans(port) ? [] // an untagged port carries no tags
        : (link.vlans ?? []);
  return new Map(vlans.map((vlan) => [tagOf(vlan), vlan]));
}

function describer(union: UnionFind<Node>, members: ReadonlyMap<Node, Vlan>, names: Names, routed: boolean): (node: Node) => Domain {
  const made = new Map<Node, Domain>();
  let vlansByRoot: Map<Node, Set<Vlan>> | undefined;
  const build = (root: Node, node: Node): Domain => {
    vlansByRoot ??= collect();
    const vlans = [...(vlansByRoot.get(root) ?? [])].sort((a, b) => compare(a.name, b.name));
    if (vlans.length === 0) return { ...nameless(node, names), vlans };
    const networks = [...new Set(vlans.map((vlan) => vlan.network?.name))];
    const [first] = vlans;
    const key = vlans.length > 1 && networks.length === 1 && networks[0] !== undefined ? networks[0] : (first?.name ?? '');
    const list = vlans.map((vlan) => vlan.name);
    const title = list.length === 1 ? `VLAN ${list[0] ?? ''}` : `VLANs ${list.slice(0, 4).join(', ')}${list.length > 4 ? ` and ${list.length - 4} more` : ''} (${routed ? 'joined by routing or links' : 'joined by links'})`;
    return { title, key, vlans };
  };
  return (node) => {
    const root = union.has(node) ? union.find(node) : node;
    let domain = made.get(root);
    if (domain === undefined) made.set(root, (domain = build(root, node)));
    return domain;
  };

  function collect(): Map<Node, Set<Vlan>> {
    const found = new Map<Node, Set<Vlan>>();
    for (const [node, vlan] of members) {
      const root = union.has(node) ? union.find(node) : node;
      const set = found.get(root);
      if (set === undefined) found.set(root, new Set([vlan]));
      else set.add(vlan);
    }

    return found;
  }
}

function nameless(node: Node, names: Names): { readonly title: string; readonly key: string } {
  const network = names.networkOf(node);
  if (network !== undefined) return { title: `network ${network.name}`, key: network.name };
  const ordinals: Readonly<Record<string, string>> = { 'path 1': 'first legs', 'path 2': 'second legs' };
  return { title: ordinals[node] ?? node, key: node };
}

function groupBy<T, K>(items: readonly T[], key: (item: T) => K | undefined): ReadonlyMap<K, readonly T[]> {
  const groups = new Map<K, T[]>();
  for (const item of items) {
    const at = key(item);
    if (at === undefined) continue;
    const list = groups.get(at);
    if (list === undefined) groups.set(at, [item]);
    else list.push(item);
  }
  return groups;
}

/** By code unit: the same on every machine whatever its language. */
function compare(a: string, b: string): number {
  return a < b ? -1 : a > b ? 1 : 0;
}

/** Node names that are unique although two rigs may use the same words. */
class Names {
  readonly #numbers = new Map<object, number>();
  readonly #networks = new Map<Node, Network>();

  of(kind: string, thing: Vlan | Switch | Device | Network | object): Node {
    let number = this.#numbers.get(thing);
    if (number === undefined) this.#numbers.set(thing, (number = this.#numbers.size));
    const node = `${kind} ${number}`;
    if (kind === 'network') this.#networks.set(node, thing as Network);
    return node;
  }

  networkOf(node: Node): Network | undefined {
    return this.#networks.get(node);
  }
}
