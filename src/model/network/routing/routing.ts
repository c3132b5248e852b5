/**
 * Ways of streams through the routers of a plan: the graph of `graph.ts` laid over its segments, as they are or with
 * something taken away. Steady state: an any-source stream goes by its shortest path, to which last hops switch over from
 * the rendezvous point (RFC 7761 §4.2.1); for about the first minute a copy goes by that too.
 */
import { UnionFind } from '../../../collections/union-find.js';
import { kept } from '../../../collections/kept.js';
import { branchesOf, type Branch } from './branches.js';
import { chainTo, type Chain, type Tie } from './chain.js';
import { placedFeet, type Box, type Ground, type PlacedFoot } from './feet.js';
import { routerGraph, type Foot, type RouterGraph, type Wire } from './graph.js';
import { routesTo, type Choice, type Routes } from './routes.js';

/** One segment that a stream crosses. */
export interface Stage<G extends Ground = Ground> {
  readonly forwarding: G;
  readonly from: number;
  readonly to: number;
  /** The router the stage ends at. */
  readonly router: Box | undefined;
}

/** A switch of a segment. */
export interface Spot<G extends Ground = Ground> {
  readonly forwarding: G;
  readonly node: number;
}

export type RoutedWay<G extends Ground = Ground> =
  | {
      readonly kind: 'way';
      /** From the sender's segment to the receiver's: one more than routers. */
      readonly stages: readonly Stage<G>[];
      readonly ties: readonly Tie<Box>[];
      /** Who serves the receivers, and false where an address nobody states could change it. */
      readonly designated: { readonly on: Box; readonly node: number; readonly sure: boolean };
    }
  /** No multicast router is known to stand in the segment of one end. */
  | { readonly kind: 'no router'; readonly side: 'sender' | 'receiver' }
  /** Routers stand there, and no link joins one with that end. */
  | { readonly kind: 'no link'; readonly side: 'sender' | 'receiver' }
  /** Routers on both sides do not meet. */
  | { readonly kind: 'apart' }
  /** The way back goes over a link that does not route multicast (RFC 7761 §4.5.5). */
  | { readonly kind: 'no neighbour'; readonly at: Box; readonly neighbour: Box };

/** What is left of the segments. */
export interface View<G extends Ground = Ground> {
  /** By node, -1 where it is gone. */
  readonly componentOf: (ground: G) => Int32Array;
  readonly gone: (box: Box) => boolean;
}

export interface Routing<G extends Ground = Ground> {
  readonly feet: readonly PlacedFoot<G>[];
  /** Whether several routers are to stand in one segment, so that a stream may pass more than one. */
  readonly inRow: boolean;
  /** The wire a switch is on; undefined where it is gone. */
  readonly wireOf: (spot: Spot<G>) => Wire | undefined;
  readonly groundOf: (wire: Wire) => G | undefined;
  readonly way: (from: Spot<G>, to: Spot<G>, four: boolean) => RoutedWay<G>;
  /** All ways from a switch to several wires, as routers are asked for them: no TTL ends them. */
  readonly branches: (from: Spot<G>, wires: Iterable<Wire>, four: boolean) => readonly Branch<Box>[];
  readonly graphOf: (four: boolean) => RouterGraph<Box>;
  readonly routesTo: (wire: Wire, four: boolean) => Routes<Box>;
  readonly chain: (from: Wire, to: Wire, four: boolean) => Chain<Box>;
  /** Equal for wires and routers that multicast routing joins. */
  readonly islandOf: (at: Wire | Box, four: boolean) => unknown;
  /** The same once something is gone. */
  readonly under: (view: View<G>) => Routing<G>;
}

/** 1 each, so that the fewest routers win. */
const METRIC = 1;
/** RFC 7761 §4.3.2: what a router says that is told nothing. */
const PRIORITY = 1;

export function buildRouting<G extends Ground>(grounds: readonly G[]): Routing<G> {
  const offsets = new Map<G, number>();
  const groundOfWire: G[] = [];
  const feet = placedFeet(grounds);
  for (const { ground } of feet) if (!offsets.has(ground)) enter(ground);
  function enter(ground: G): void {
    offsets.set(ground, groundOfWire.length);
    for (let node = 0; node < ground.segment.nodes.length; node++) groundOfWire.push(ground);
  }
  return routingUnder(
    { feet, offsets, groundOfWire },
    { componentOf: ({ tree }) => tree.component, gone: () => false },
  );
}

interface Base<G extends Ground> {
  readonly feet: readonly PlacedFoot<G>[];
  /** Number of a segment's first wire. */
  readonly offsets: ReadonlyMap<G, number>;
  readonly groundOfWire: readonly G[];
}

function routingUnder<G extends Ground>(base: Base<G>, view: View<G>): Routing<G> {
  const graphs = new Map<boolean, RouterGraph<Box>>();
  const routes = new Map<string, Routes<Box>>();
  const chains = new Map<string, Chain<Box>>();

  const wireOf = ({ forwarding, node }: Spot<G>): Wire | undefined => {
    const offset = base.offsets.get(forwarding);
    const component = view.componentOf(forwarding)[node] ?? -1;
    return offset === undefined || component === -1 ? undefined : offset + component;
  };
  const graphOf = (four: boolean): RouterGraph<Box> =>
    kept(graphs, four, () =>
      routerGraph(
        base.feet.flatMap((foot): Foot<Box>[] => {
          const wire = view.gone(foot.on) ? undefined : wireOf({ forwarding: foot.ground, node: foot.node });
          if (wire === undefined) return [];
          const { on, multicast, metric = METRIC, priority = PRIORITY } = foot;
          return [{ on, wire, cost: metric, multicast, priority, address: four ? foot.address4 : foot.address6 }];
        }),
      ),
    );
  const toWire = (wire: Wire, four: boolean): Routes<Box> =>
    kept(routes, `${wire} ${String(four)}`, () => routesTo(graphOf(four), wire, choiceOf));
  const chain = (from: Wire, to: Wire, four: boolean): Chain<Box> =>
    kept(chains, `${from} ${to} ${String(four)}`, () => chainTo(toWire(from, four), to));
  const islands = new Map<boolean, UnionFind<Wire | Box>>();
  const islandOf = (at: Wire | Box, four: boolean): unknown =>
    kept(islands, four, () => {
      const joined = new UnionFind<Wire | Box>();
      const graph = graphOf(four);
      for (const on of new Set(base.feet.map((foot) => foot.on)))
        for (const { wire, multicast } of graph.feetOf(on)) if (multicast) joined.union(wire, on);
      return joined;
    }).find(at);
  const nodeOf = ({ wire, on }: Foot<Box>): number => {
    const ground = base.groundOfWire[wire];
    return ground?.igmp.routers.find((one) => one.on === on)?.node ?? -1;
  };
  const missing = (spot: Spot<G>, side: 'sender' | 'receiver'): RoutedWay<G> => ({
    kind: spot.forwarding.igmp.routers.length === 0 ? 'no router' : 'no link',
    side,
  });

  return {
    feet: base.feet,
    inRow: base.feet.some(({ ground }) =>
      ground.segment.domain.vlans.some(({ routing }) => (routing?.routers.length ?? 0) > 1),
    ),
    wireOf,
    groundOf: (wire) => base.groundOfWire[wire],
    graphOf,
    routesTo: toWire,
    chain,
    islandOf,
    way: (from, to, four) => {
      const start = wireOf(from);
      const end = wireOf(to);
      if (start === undefined) return missing(from, 'sender');
      if (end === undefined) return missing(to, 'receiver');
      const graph = graphOf(four);
      if (!graph.feetOn(start).some(({ multicast }) => multicast)) return missing(from, 'sender');
      if (!graph.feetOn(end).some(({ multicast }) => multicast)) return missing(to, 'receiver');
      const found = chain(start, end, four);
      if (islandOf(start, four) !== islandOf(end, four)) return { kind: 'apart' };
      if (found.kind === 'no neighbour') return { kind: found.kind, at: found.at, neighbour: found.way.neighbour.on };
      if (found.kind !== 'chain') return { kind: 'apart' };
      const stages: Stage<G>[] = [];
      let at = from;
      for (const { router, into, out } of found.hops) {
        const beyond = base.groundOfWire[out.wire];
        stages.push({ forwarding: at.forwarding, from: at.node, to: nodeOf(into), router });
        if (beyond !== undefined) at = { forwarding: beyond, node: nodeOf(out) };
      }
      stages.push({ forwarding: at.forwarding, from: at.node, to: to.node, router: undefined });
      const { foot, sure } = found.designated;
      return { kind: 'way', stages, ties: found.ties, designated: { on: foot.on, node: nodeOf(foot), sure } };
    },
    branches: (from, wires, four) => {
      const start = wireOf(from);
      if (start === undefined) return [];
      const wanted = new Map(
        [...wires].flatMap((wire) => {
          const found = chain(start, wire, four);
          return found.kind === 'chain' ? [[wire, found.hops] as const] : [];
        }),
      );
      return wanted.size === 0 ? [] : branchesOf(toWire(start, four), wanted);
    },
    under: (other) => routingUnder(base, other),
  };
}

function choiceOf({ rig }: Box): Choice {
  return rig.practice.equalPaths === 'highest-address' ? 'highest-address' : 'lowest-address';
}
