/**
 * Loops of links between switches, whatever they carry: where there is one, a spanning tree decides which of its links
 * forward, once for all VLANs of an instance (IEEE 802.1Q-2022 §13). A plan without loops has none of these and pays for none.
 */
import { kept } from '../../collections/kept.js';
import { isNonEmpty, type NonEmpty } from '../../collections/non-empty.js';
import { UnionFind } from '../../collections/union-find.js';
import type { Device, Link, LinkEnd, Plan, Switch, Vlan } from '../../plan/types.js';
import { bundlesOf } from './bundles.js';
import { buildCutTree } from './cut-tree.js';
import { instancePriority, regionOf, vlanKey } from './regions.js';
import type { Edge, Segment } from './segment.js';
import { spanningTree, type SpanningTree, type TreeBridge, type TreeLink, type TreePort } from './spanning-tree.js';
import { bridgeFinder, type BridgeOf, byName, isSwitched, joinPairs, segmentsByLink } from './tree-links.js';
import { lowest, portAt, portNumbers, rateAt, sided } from './tree-ports.js';

/** Why a tree is not what the plan states. */
export type TreeDoubt =
  /** Some switch does not say which tree it runs. */
  | 'mode'
  /** MSTP runs a tree for each instance, and one is counted. */
  | 'instances'
  /** VLANs of several instances are one segment, and the tree of the first is counted. */
  | 'joinedInstances'
  /** Equal priorities and an address that nobody states. */
  | 'address'
  /** The rate, and with it the cost, of a link is not stated. */
  | 'rate'
  /** The old protocol, whose costs may be of either method. */
  | 'method';

/** What is out of order. */
export interface Gone {
  readonly switches: ReadonlySet<Switch>;
  readonly links: ReadonlySet<Link>;
}

/** What a tree makes of the links of a part. */
export interface Layout {
  /** The root of each switch that runs a tree. */
  readonly rootOf: (one: Switch) => Switch | undefined;
  /** False for a link that a port at one of its ends keeps blocked, and for one that is gone. */
  readonly forwards: (link: Link) => boolean;
  /** The end of a link whose port is blocked; undefined where none is, or an address nobody knows settles which. */
  readonly blockedAt: (link: Link) => LinkEnd | undefined;
  /** Empty where the plan states all that settled it. */
  readonly doubts: readonly TreeDoubt[];
}

/** Switches that links join, at least some of them in a loop. */
export interface LoopedPart {
  readonly switches: readonly Switch[];
  /** Cables and aggregates: what is one port at each end. */
  readonly bundles: readonly NonEmpty<Link>[];
  /** Bundles that make loops with each other, by what no single switch divides; a way that is the only one is in none. */
  readonly rings: readonly NonEmpty<NonEmpty<Link>>[];
  readonly inRing: (link: Link) => boolean;
  readonly layout: Layout;
  /** Its tree once something is out of order. */
  readonly without: (gone: Gone) => Layout;
  /** Single switches and links whose loss may turn the tree, or takes a link out of it. */
  readonly turning: () => readonly (Switch | Link)[];
  /** The part with the tree of some VLANs that are one segment: itself where one tree is counted for all. */
  readonly treeOf: (vlans: readonly Vlan[]) => LoopedPart;
  /** The part once for each of its trees, that of instance 0 first. */
  readonly trees: readonly LoopedPart[];
  /** What a switch is stated to have for a priority in this tree. */
  readonly priorityAt: (one: Switch) => number | undefined;
}

/** Whether anything that settles the tree of a part is assumed. */
export function isAssumedTree({ layout }: LoopedPart): boolean {
  return layout.doubts.length > 0;
}

/** Every part of the plan's network with a loop. */
export function loopedParts(plan: Plan, segments: Iterable<Segment>): readonly LoopedPart[] {
  const bridgeOf = bridgeFinder(plan);
  const all = joinPairs(bundlesOf(plan), bridgeOf);
  // What makes no loop with all links makes none with fewer: most plans need no more than this look.
  if (closing(all, bridgeOf).loops.length === 0) return [];
  const carrying = segmentsByLink(segments);
  const bundles = all.filter((links) => links.some((link) => isSwitched(link, carrying)));
  const { joined, loops } = closing(bundles, bridgeOf);
  if (loops.length === 0) return [];
  const parts = new Map<Switch, { readonly switches: Set<Switch>; readonly bundles: NonEmpty<Link>[] }>();
  for (const one of loops) parts.set(joined.find(one), { switches: new Set(), bundles: [] });
  for (const links of bundles) {
    const bridge = bridgeOf(links[0].ends[0].switch);
    const part = bridge === undefined ? undefined : parts.get(joined.find(bridge));
    if (part === undefined) continue;
    for (const { switch: one } of links.flatMap(({ ends }) => ends)) if (one !== undefined) part.switches.add(one);
    part.bundles.push(links);
  }
  const votes = servingSwitches(plan);
  return [...parts.values()].map((part) => looped([...part.switches].sort(byName), part.bundles, { votes, bridgeOf }));
}

/** Which switches bundles join, and one for each bundle that closes a loop. */
function closing(
  bundles: readonly NonEmpty<Link>[],
  bridgeOf: BridgeOf,
): { readonly joined: UnionFind<Switch>; readonly loops: readonly Switch[] } {
  const joined = new UnionFind<Switch>();
  const loops: Switch[] = [];
  for (const [{ ends }] of bundles) {
    const [a, b] = [bridgeOf(ends[0].switch), bridgeOf(ends[1].switch)];
    if (a === undefined || b === undefined) continue;
    if (joined.find(a) === joined.find(b)) loops.push(a);
    else joined.union(a, b);
  }
  return { joined, loops };
}

function looped(
  switches: readonly Switch[],
  bundles: readonly NonEmpty<Link>[],
  { votes, bridgeOf }: { readonly votes: ReadonlyMap<Switch, number>; readonly bridgeOf: BridgeOf },
): LoopedPart {
  const ownPlaces = new Map(switches.map((one, place) => [one, place]));
  // Both switches of a pair stand at the place of one.
  const places = new Map(switches.map((one, place) => [one, ownPlaces.get(bridgeOf(one) ?? one) ?? place]));
  const bundleOf = new Map(bundles.flatMap((links, index) => links.map((link) => [link, index])));
  const numbers = portNumbers(bundles);
  const slowest = lowest(bundles.flatMap((links) => rateAt(links, 0) ?? [])) ?? USUAL_RATE;
  const linkOf = (links: readonly Link[]): TreeLink => {
    const port = (side: 0 | 1): TreePort => portAt(links, side, places, numbers, slowest);
    return { ends: [port(0), port(1)] };
  };
  const entire = bundles.map(linkOf);
  const linksOf = (gone: Gone | undefined): readonly TreeLink[] =>
    gone === undefined
      ? entire
      : entire.map((link, index) => {
          const all = bundles[index] ?? [];
          const left = all.filter((one) => !gone.links.has(one));
          return left.length === 0 || left.length === all.length ? link : linkOf(left);
        });
  const region = regionOf(switches);
  const rings = ringsOf(switches, bundles, places);
  const ringed = new Set(rings.flat(2));
  const trees: LoopedPart[] = [];
  const joined = new Map<LoopedPart, LoopedPart>();
  const treeOf = (vlans: readonly Vlan[]): LoopedPart => {
    const [first = 0, ...others] = new Set(vlans.map((vlan) => region?.get(vlanKey(vlan)) ?? 0));
    const tree = trees.find((_, index) => numbersOf[index] === first) ?? whole;
    return others.length === 0
      ? tree
      : kept(joined, tree, () => partWith(tree.priorityAt, [...general, 'joinedInstances']));
  };
  const general = doubtsOf(switches, bundles, region !== undefined);
  const partWith = (priorityAt: LoopedPart['priorityAt'], stated: readonly TreeDoubt[]): LoopedPart => {
    const bridges = bridgesOf(switches, votes, priorityAt);
    const layoutOf = (tree: SpanningTree, gone: Gone | undefined): Layout => {
      const doubts: readonly TreeDoubt[] = tree.guessed ? [...stated, 'address'] : stated;
      return {
        rootOf: (one) => switches[tree.root[places.get(one) ?? -1] ?? -1],
        forwards: (link) => {
          const index = bundleOf.get(link);
          return index === undefined || (tree.forwards[index] === 1 && gone?.links.has(link) !== true);
        },
        blockedAt: (link) => {
          const roles = tree.roles[bundleOf.get(link) ?? -1];
          const side = roles?.findIndex((role) => role === 'alternate' || role === 'backup');
          if (side !== 0 && side !== 1) return undefined;
          const blocked = sided(bundles[bundleOf.get(link) ?? -1]?.[0], link, side);
          const other = blocked === link.ends[0] ? link.ends[1] : link.ends[0];
          const ends = [blocked, other].map((end) => (end.switch === undefined ? -1 : (places.get(end.switch) ?? -1)));
          const known = ends.every((at) => bridges[at]?.mac !== undefined);
          const costs = ends.map((at) => tree.pathCost[at]);
          const settled =
            costs[0] !== costs[1] || bridges[ends[0] ?? -1]?.priority !== bridges[ends[1] ?? -1]?.priority;
          return known || settled || blocked.switch === other.switch ? blocked : undefined;
        },
        doubts,
      };
    };
    const tree = spanningTree(bridges, linksOf(undefined));
    const without = (gone: Gone): Layout => {
      const left = new Set(switches.filter((one) => !gone.switches.has(one)).map((one) => places.get(one)));
      const ends = new Set([...gone.switches].flatMap((one) => places.get(one) ?? []).filter((at) => !left.has(at)));
      const lost = new Set(gone.links);
      for (const link of bundles.flat())
        if (link.ends.some((end) => end.switch !== undefined && gone.switches.has(end.switch))) lost.add(link);
      const all = { switches: gone.switches, links: lost };
      const links = new Set(bundles.flatMap((own, index) => (own.every((link) => lost.has(link)) ? [index] : [])));
      return layoutOf(spanningTree(bridges, linksOf(all), { bridges: ends, links }), all);
    };
    const known = new WeakMap<Gone, Layout>();
    return {
      switches,
      bundles,
      rings,
      inRing: (link) => ringed.has(link),
      layout: layoutOf(tree, undefined),
      without: (gone) => {
        let layout = known.get(gone);
        if (layout === undefined) known.set(gone, (layout = without(gone)));
        return layout;
      },
      turning: () => {
        // Behind a box without a tree one LAN has many links: whatever is lost there may turn the rest.
        const plain = bridges.every(({ runs }) => runs);
        const used = bundles.filter((_, index) => !plain || tree.forwards[index] === 1);
        const degree = new Map<Switch, number>();
        for (const [{ ends }] of used)
          for (const { switch: one } of ends) if (one !== undefined) degree.set(one, (degree.get(one) ?? 0) + 1);
        const roots = new Set(tree.root);
        const isLeaf = (one: Switch, place: number): boolean =>
          plain && one.pair === undefined && (degree.get(one) ?? 0) < 2 && !roots.has(place);
        return [...switches.filter((one, place) => !isLeaf(one, place)), ...used.flat()];
      },
      treeOf,
      trees,
      priorityAt,
    };
  };
  const whole = partWith((one) => one.spanningTree?.priority, general);
  const numbersOf = [0, ...new Set(region?.values())];
  trees.push(whole);
  for (const number of numbersOf.slice(1)) trees.push(partWith((one) => instancePriority(one, number), general));
  return whole;
}

function ringsOf(
  switches: readonly Switch[],
  bundles: readonly NonEmpty<Link>[],
  places: ReadonlyMap<Switch, number>,
): readonly NonEmpty<NonEmpty<Link>>[] {
  const edges = bundles.map((links, id): Edge => {
    const [a, b] = links[0].ends.map((end) => (end.switch === undefined ? -1 : (places.get(end.switch) ?? -1)));
    return { id, a: a ?? -1, b: b ?? -1, links, rateBps: undefined };
  });
  const edgesAt = switches.map((): Edge[] => []);
  for (const edge of edges) {
    edgesAt[edge.a]?.push(edge);
    edgesAt[edge.b]?.push(edge);
  }
  const rings: NonEmpty<NonEmpty<Link>>[] = [];
  buildCutTree({ nodes: switches, edgesAt }, (block) => {
    const ring = block.flatMap(({ id }) => (bundles[id] === undefined ? [] : [bundles[id]]));
    if (ring.length > 1 && isNonEmpty(ring)) rings.push(ring);
  });
  return rings;
}

/** Where no link of a part states a rate, all count alike. */
const USUAL_RATE = 10e9;
const DEFAULT_PRIORITY = 32768;

/**
 * Where addresses that nobody states would settle something, the switch comes first at which most VLANs have a querier or
 * router, as a tree is meant to be rooted there; then the first by name.
 */
function bridgesOf(
  switches: readonly Switch[],
  votes: ReadonlyMap<Switch, number>,
  priorityAt: LoopedPart['priorityAt'],
): readonly TreeBridge[] {
  const stands = new Map<Switch, number>();
  for (const [place, one] of switches.entries()) {
    const own = votes.get(one) ?? 0;
    stands.set(one, own > 0 ? place - own * switches.length : place + 1);
  }
  return switches.map((one): TreeBridge => ({
    runs: runsTree(one),
    passes: one.spanningTree?.bpdus === 'pass',
    priority: priorityAt(one) ?? DEFAULT_PRIORITY,
    mac: one.spanningTree?.mac,
    stand: one.spanningTree?.mac === undefined ? (stands.get(one) ?? 0) : 0,
  }));
}

/** Switches where queriers and routers of VLANs stand, by how many; the one meant to query counts most. */
function servingSwitches({ vlans }: Plan): ReadonlyMap<Switch, number> {
  const found = new Map<Switch, number>();
  const vote = (on: Switch | Device | undefined, vlan: Vlan, weight: number): void => {
    const one = on === undefined || 'ports' in on ? on : on.interfaces.find((via) => via.vlan === vlan)?.port?.switch;
    if (one !== undefined) found.set(one, (found.get(one) ?? 0) + weight);
  };
  for (const vlan of vlans) {
    for (const list of [vlan.igmp?.queriers, vlan.mld?.queriers])
      for (const [index, { on }] of (list ?? []).entries()) vote(on, vlan, index === 0 ? MEANT : 1);
    for (const router of vlan.routing?.routers ?? []) vote(router, vlan, 1);
  }
  return found;
}

const MEANT = 3;

/** Silence never means none. */
export function runsTree(one: Switch): boolean {
  return one.spanningTree?.mode !== 'none';
}

function doubtsOf(
  switches: readonly Switch[],
  bundles: readonly NonEmpty<Link>[],
  inRegion: boolean,
): readonly TreeDoubt[] {
  const settings = switches.map((one) => one.spanningTree);
  const rates = bundles.map((links) => rateAt(links, 0));
  const costed = (links: readonly Link[]): boolean =>
    links.some(({ ends }) => ends.every(({ port }) => port?.spanningTree?.cost !== undefined));
  const open = bundles.filter((links) => !costed(links));
  return [
    ...(settings.includes(undefined) ? ['mode' as const] : []),
    ...(!inRegion && settings.some((own) => own?.mode === 'mstp') ? ['instances' as const] : []),
    ...(open.some((links) => rateAt(links, 0) === undefined) ? ['rate' as const] : []),
    ...(settings.some((own) => own?.mode === 'stp' && own.method === undefined) && new Set(rates).size > 1
      ? ['method' as const]
      : []),
  ];
}
