/**
 * Who hears whom.
 *
 * A **switched domain** is what one VLAN floods over: the VLAN on every switch it really reaches over links, joined
 * with whatever an untagged port or an equal 802.1Q id ties to it. A **reachability domain** is the switched domains
 * that multicast routing joins. Both are computed from links, trunks and routing where a plan states them, never from names.
 *
 * Where a plan is silent:
 * - a VLAN without links, or on a switch whose links nobody states, is one switched domain;
 * - a host on an unstated port of a VLAN in several parts stands where most of the VLAN's hosts do;
 * - a link of which neither an end nor the link itself states VLANs may carry any of them;
 * - a link end that states none carries what the other end does;
 * - an interface known only by its network belongs to that network as a whole;
 * - a leg of which nothing is known belongs to the path of its number (first legs with first legs, second with second).
 */
import type {
  Device,
  Interface,
  Join,
  Link,
  LinkEnd,
  Network,
  Plan,
  Port,
  Rig,
  Switch,
  Vlan,
} from '../../plan/types.js';
import { saysVlans, tagged, tagOf, untagged, type Tag } from './trunks.js';
import { UnionFind } from '../../collections/union-find.js';

export interface Domain {
  /** For people: `VLAN red-video`, `VLANs red-audio and red-video (joined by routing)`, `network red`, `the first legs`. */
  readonly title: string;
  /** Short name for subject keys: a network's or VLAN's, with the rig's where rigs share it; parts of a VLAN share one. */
  readonly key: string;
  readonly vlans: readonly Vlan[];
  /** Switches it is known to stand on, by name; empty where the plan does not tell. */
  readonly switches: readonly Switch[];
}

/** Anything that stands somewhere on the network: a sender leg, a receiver leg or an interface. */
export interface Attached {
  readonly interface?: Interface | undefined;
  readonly vlan: Vlan | undefined;
  readonly network: Network | undefined;
  /** Port of an interface asked about itself. */
  readonly port?: Port | number | undefined;
  /** Leg number from 0; an interface counts as a first leg. */
  readonly index?: number;
}

export interface Domains {
  /** The switched domain something stands in. */
  readonly switched: (attached: Attached) => Domain;
  /** The reachability domain something stands in. */
  readonly reach: (attached: Attached) => Domain;
  /** Whether the plan tells in which part of its VLAN something stands. */
  readonly placed: (attached: Attached) => boolean;
  /** Switched domain of a VLAN on a switch; undefined when the VLAN is not there. */
  readonly onSwitch: (owner: Switch, vlan: Vlan) => Domain | undefined;
  /** Switched domains that a link carries; where nobody states its VLANs, all that its switches know. */
  readonly overLink: (link: Link) => readonly Domain[];
  /** True when the plan states links, so that a missing path is a fault and not a missing fact. */
  readonly linked: boolean;
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
  const reachDomain = describer(reach, nodes, 'joined by routing');
  return {
    switched: (attached) => switchedDomain(nodes.of(attached)),
    reach: (attached) => reachDomain(nodes.of(attached)),
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
      return [...new Set(carried.flatMap((vlan) => maybe(nodes.known(owner, vlan))).map(switchedDomain))];
    },
    linked: plan.links.length > 0,
    joins,
  };
}

/** A VLAN as a whole or on one switch, a network without known VLANs, a path of which nothing is known, a router. */
interface Node {
  readonly vlan?: Vlan;
  readonly switch?: Switch;
  readonly network?: Network;
  readonly path?: number;
}

/** Every place of the plan's network where something can stand. */
class Nodes {
  readonly #whole: ReadonlySet<Vlan>;
  /** Switches between which any VLAN may pass stand for one. */
  readonly #clusters: UnionFind<Switch>;
  readonly #onSwitch = new Map<Switch, Map<Vlan, Node>>();
  readonly #ofVlan = new Map<Vlan, Node[]>();
  readonly #ofNetwork = new Map<Network, Node>();
  readonly #paths = new Map<number, Node>();
  readonly #onlyVlan: ReadonlyMap<Network, Vlan | undefined>;
  readonly #interfaces: readonly Interface[];
  #hosts: ReadonlyMap<Node, number> | undefined;
  readonly #likely = new Map<Vlan, Node>();

  constructor(plan: Plan, stated: StatedVlans) {
    this.#onlyVlan = onlyVlans(plan);
    this.#whole = wholeVlans(plan, stated);
    this.#clusters = clusters(plan);
    this.#interfaces = plan.interfaces;
    for (const vlan of plan.vlans) if (this.#whole.has(vlan)) this.#ofVlan.set(vlan, [{ vlan }]);
    for (const one of plan.switches) for (const vlan of stated.on(one)) this.on(one, vlan);
    for (const [port, vlan] of stated.patched) this.on(port.switch, vlan);
    for (const vlan of plan.vlans) if (!this.#ofVlan.has(vlan)) this.#ofVlan.set(vlan, [{ vlan }]);
    for (const network of plan.networks) this.#ofNetwork.set(network, { network });
  }

  all(): readonly Node[] {
    return [...[...this.#ofVlan.values()].flat(), ...this.#ofNetwork.values(), ...this.#paths.values()];
  }

  /** The switch that stands for all between which any VLAN may pass. */
  clusterOf(one: Switch): Switch {
    return this.#clusters.find(one);
  }

  of(attached: Attached): Node {
    const { network } = attached;
    const vlan = attached.vlan ?? (network === undefined ? undefined : this.#onlyVlan.get(network));
    if (vlan !== undefined) return this.knownPlace(attached) ?? this.likely(vlan);
    if (network !== undefined) return kept(this.#ofNetwork, network, () => ({ network }));
    const path = attached.index ?? 0;
    return kept(this.#paths, path, () => ({ path }));
  }

  knownPlace(attached: Attached): Node | undefined {
    const port = attached.interface?.port ?? (typeof attached.port === 'object' ? attached.port : undefined);
    return attached.vlan === undefined || port === undefined ? undefined : this.known(port.switch, attached.vlan);
  }

  /** Where a VLAN most likely is: its only place, or the one of several with the most hosts. */
  likely(vlan: Vlan): Node {
    return kept(this.#likely, vlan, () => {
      const places = this.ofVlan(vlan);
      if (places.length < 2) return places[0] ?? { vlan };
      const hosts = (this.#hosts ??= this.hostsOf());
      const most = Math.max(...places.map((node) => hosts.get(node) ?? 0));
      return (
        sortedBy(
          places.filter((node) => (hosts.get(node) ?? 0) === most),
          (node) => node.switch?.name ?? '',
        )[0] ?? { vlan }
      );
    });
  }

  /** How many interfaces are known to be where: counted once somebody asks for the likely one of several places. */
  hostsOf(): ReadonlyMap<Node, number> {
    const hosts = new Map<Node, number>();
    for (const { vlan, port } of this.#interfaces) {
      const node = vlan === undefined || port === undefined ? undefined : this.known(port.switch, vlan);
      if (node !== undefined) hosts.set(node, (hosts.get(node) ?? 0) + 1);
    }
    return hosts;
  }

  ofVlan(vlan: Vlan): readonly Node[] {
    return this.#ofVlan.get(vlan) ?? [];
  }

  known(owner: Switch, vlan: Vlan): Node | undefined {
    return this.#whole.has(vlan) ? this.likely(vlan) : this.#onSwitch.get(this.#clusters.find(owner))?.get(vlan);
  }

  /** A VLAN on a switch; from now on it is there. */
  on(owner: Switch, vlan: Vlan): Node {
    if (this.#whole.has(vlan)) return this.likely(vlan);
    const byVlan = kept(this.#onSwitch, this.#clusters.find(owner), () => new Map<Vlan, Node>());
    let node = byVlan.get(vlan);
    if (node === undefined) {
      byVlan.set(vlan, (node = { vlan, switch: owner }));
      kept(this.#ofVlan, vlan, (): Node[] => []).push(node);
    }
    return node;
  }
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
  for (const vlan of plan.vlans) {
    const { routing } = vlan;
    if (routing === undefined || routing.mode === 'none') continue;
    // Routers not named: whatever routes the rig's VLANs is taken for one router.
    for (const router of routing.routers.length > 0 ? routing.routers : [vlan.rig]) {
      const at = kept(routers, router, (): Node => ({}));
      for (const node of nodes.ofVlan(vlan)) reach.union(node, at);
    }
  }
}

/** VLANs taken as one switched domain because the plan does not say enough to tell their parts apart. */
function wholeVlans(plan: Plan, stated: StatedVlans): ReadonlySet<Vlan> {
  const unclear =
    plan.links.length === 0 ||
    plan.links.some((link) => link.ends.some((end) => end.switch === undefined)) ||
    plan.unresolved.some((lost) => lost.wanted === 'VLAN' && (lost.by.kind === 'switch' || lost.by.kind === 'link'));
  if (unclear) return new Set(plan.vlans);

  const linked = new Set(plan.links.flatMap((link) => link.ends.map((end) => end.switch)));
  const first = new Map<Vlan, Switch>();
  const spread = new Set<Vlan>();
  const alone = new Set<Vlan>();
  const stand = (one: Switch, vlan: Vlan): void => {
    if (kept(first, vlan, () => one) !== one) spread.add(vlan);
    if (!linked.has(one)) alone.add(vlan);
  };
  for (const one of plan.switches) for (const vlan of stated.on(one)) stand(one, vlan);
  for (const [port, vlan] of stated.patched) stand(port.switch, vlan);
  // How a switch without links hangs on the others is not stated.
  return new Set([...spread].filter((vlan) => alone.has(vlan)));
}

/** The VLAN of each network that has one only: what stands on such a network stands in it. */
function onlyVlans(plan: Plan): ReadonlyMap<Network, Vlan | undefined> {
  const only = new Map<Network, Vlan | undefined>();
  for (const vlan of plan.vlans)
    if (vlan.network !== undefined) only.set(vlan.network, only.has(vlan.network) ? undefined : vlan);
  return only;
}

/** Switches joined by links of whose VLANs nothing is said. */
function clusters(plan: Plan): UnionFind<Switch> {
  const found = new UnionFind<Switch>();
  for (const link of plan.links) {
    const [a, b] = link.ends;
    if (saysNothing(link) && a.switch !== undefined && b.switch !== undefined) found.union(a.switch, b.switch);
  }
  return found;
}

/** Whether a link may carry any VLAN, because neither it nor its ends state one. */
function saysNothing(link: Link): boolean {
  const [a, b] = link.ends;
  return (
    a.port === undefined ||
    b.port === undefined ||
    (link.vlans === undefined && !saysVlans(a.port) && !saysVlans(b.port))
  );
}

/** Where the plan itself puts VLANs; gathered once, for several steps look at every port and interface. */
interface StatedVlans {
  /** On a switch by its ports and addresses. */
  readonly on: (one: Switch) => ReadonlySet<Vlan>;
  /** By interfaces that are not simply in the access VLAN of their port: these alone tell more than the switches do. */
  readonly patched: readonly (readonly [Port, Vlan])[];
}

function statedVlans(plan: Plan): StatedVlans {
  const bySwitch = new Map(plan.switches.map((one) => [one, vlansOn(one)]));
  const patched: (readonly [Port, Vlan])[] = [];
  for (const { vlan, port } of plan.interfaces) {
    if (vlan !== undefined && port !== undefined && port.access !== vlan) patched.push([port, vlan]);
  }
  return { on: (one) => bySwitch.get(one) ?? vlansOn(one), patched };
}

/** VLANs the plan itself puts on a switch: on its ports and its addresses. */
function vlansOn(one: Switch): ReadonlySet<Vlan> {
  const found = new Set<Vlan>();
  let access: Vlan | undefined; // mostly that of the port before
  for (const port of one.ports.values()) {
    if (port.access !== undefined && port.access !== access) found.add((access = port.access));
    if (port.native !== undefined) found.add(port.native);
    if (port.trunk !== undefined && port.trunk !== 'all') for (const vlan of port.trunk) found.add(vlan);
  }
  for (const held of one.addresses) if (held.vlan !== undefined) found.add(held.vlan);
  return found;
}

/**
 * The VLANs a switch knows, which are what `trunk: all` carries: those the plan puts on it, and those that get to it
 * over other trunks. An id that arrives under two names is known by the switch's own, else by the first.
 */
function knownVlans(
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
          : new Set([...tagged(from), ...(silent ? maybe(untagged(from)) : [])].map(tagOf));
      const carried = link.vlans === undefined ? undefined : new Set(link.vlans.map(tagOf));
      const passes = (vlan: Vlan): boolean =>
        (tags === undefined || tags.has(tagOf(vlan))) && (carried === undefined || carried.has(tagOf(vlan)));
      kept(ways, clusterOf(from.switch), (): Way[] => []).push({ to: to.switch, passes });
    }
  }
  return ways;
}

interface Pair {
  readonly tagged: boolean;
  readonly vlans: readonly [Vlan, Vlan];
}

/** Pairs of VLAN entries a link ties together: equal ids tagged on both ends, and what both send untagged. */
function pairsOf(link: Link, allOf: (owner: Switch) => readonly Vlan[]): readonly Pair[] {
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
    return [...taggedAt(says, allOf), ...maybe(untagged(says.port))]
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

/** Domains with their names; names are made for all at once, so that no two share a title. */
function describer(union: UnionFind<Node>, nodes: Nodes, joined: string): (node: Node) => Domain {
  let byRoot: Map<Node, Domain> | undefined;
  return (node) => {
    byRoot ??= describeAll(union, nodes, joined);
    return kept(byRoot, union.find(node), () => describe([node], joined));
  };
}

function describeAll(union: UnionFind<Node>, nodes: Nodes, joined: string): Map<Node, Domain> {
  const members = new Map<Node, Node[]>();
  for (const node of nodes.all()) kept(members, union.find(node), (): Node[] => []).push(node);
  const plain = [...members].map(([root, own]) => ({ root, domain: describe(own, joined) }));
  const byRig = apart(plain, ({ domain }) => {
    const rigs = [...new Set(domain.vlans.map(({ rig }) => rig.name))].sort();
    return rigs.join('') === '' ? '' : ` of ${rigs.join(' and ')}`;
  });
  const bySwitch = apart(byRig, ({ domain }) => onSwitches(domain));
  // Keys stay as they are where a link fault elsewhere splits a VLAN.
  return new Map(
    bySwitch.map(({ root, domain }, index) => [root, { ...domain, key: byRig[index]?.domain.key ?? domain.key }]),
  );
}

interface NamedDomain {
  readonly root: Node;
  readonly domain: Domain;
}

/** Adds a word to the names of domains that share a key, where the word tells them apart. */
function apart(named: readonly NamedDomain[], word: (one: NamedDomain) => string): readonly NamedDomain[] {
  const words = new Map<string, Set<string>>();
  for (const one of named) kept(words, one.domain.key, () => new Set<string>()).add(word(one));
  return named.map((one) => {
    const { domain } = one;
    if ((words.get(domain.key)?.size ?? 0) < 2) return one;
    return {
      root: one.root,
      domain: { ...domain, title: `${domain.title}${word(one)}`, key: `${domain.key}${word(one)}` },
    };
  });
}

function onSwitches(domain: Domain): string {
  const names = domain.switches.map((one) => one.name);
  if (names.length === 0) return '';
  return ` on ${names.slice(0, 3).join(', ')}${names.length > 3 ? ` and ${names.length - 3} more` : ''}`;
}

function describe(own: readonly Node[], joined: string): Domain {
  const vlans = sortedBy(new Set(own.flatMap((node) => maybe(node.vlan))), (vlan) => `${vlan.name}\n${vlan.rig.name}`);
  const switches = sortedBy(new Set(own.flatMap((node) => maybe(node.switch))), (one) => one.name);
  const [first] = vlans;
  if (first === undefined) return { ...nameless(own[0]), vlans, switches };
  if (vlans.length === 1) return { title: `VLAN ${first.name}`, key: first.name, vlans, switches };
  const networks = new Set(vlans.map((vlan) => vlan.network?.name));
  const [network] = networks;
  const names = vlans.map((vlan) => vlan.name);
  const list =
    names.length > 4
      ? `${names.slice(0, 4).join(', ')} and ${names.length - 4} more`
      : `${names.slice(0, -1).join(', ')} and ${names.at(-1) ?? ''}`;
  return {
    title: `VLANs ${list} (${joined})`,
    key: networks.size === 1 && network !== undefined ? network : first.name,
    vlans,
    switches,
  };
}

function nameless(node: Node | undefined): { readonly title: string; readonly key: string } {
  if (node?.network !== undefined) return { title: `network ${node.network.name}`, key: node.network.name };
  const number = (node?.path ?? 0) + 1;
  return { title: ['', 'the first legs', 'the second legs'][number] ?? `legs ${number}`, key: `path ${number}` };
}

function maybe<T>(thing: T | undefined): readonly T[] {
  return thing === undefined ? [] : [thing];
}

/** The value of a key, made on first use. */
function kept<K, V>(map: Map<K, V>, key: K, make: () => V): V {
  let value = map.get(key);
  if (value === undefined) map.set(key, (value = make()));
  return value;
}

/** By code unit: the same on every machine whatever its language. */
function sortedBy<T>(things: Iterable<T>, key: (thing: T) => string): readonly T[] {
  return [...things].sort((a, b) => (key(a) < key(b) ? -1 : key(a) > key(b) ? 1 : 0));
}
