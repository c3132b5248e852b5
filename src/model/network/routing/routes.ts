/**
 * Unicast ways of every router to one wire, by the sum of what the interfaces on the way out cost (RFC 2328 §16.1). A
 * stream goes them backwards: what it costs away from the source plays no part (RFC 7761 §4.1.5).
 */
import { pop, push, type Heap } from '../../../collections/heap.js';
import { byAddress, type Foot, type Router, type RouterGraph, type Wire } from './graph.js';

/** Over which foot of its own, and to which neighbour, a router sends what is for the source. */
export interface Upstream<R extends Router = Router> {
  readonly foot: Foot<R>;
  readonly neighbour: Foot<R>;
}

export interface Route<R extends Router = Router> {
  /** What it tells its neighbours that the way costs. */
  readonly cost: number;
  /** Its foot on the wire itself; no other way counts then. */
  readonly direct: Foot<R> | undefined;
  /** Ways of equal cost, the one taken first. */
  readonly ways: readonly Upstream<R>[];
}

export interface Routes<R extends Router = Router> {
  readonly graph: RouterGraph<R>;
  readonly to: Wire;
  /** Undefined where no way leads there. */
  readonly of: (router: R) => Route<R> | undefined;
}

/** Which of several equal paths a router takes: RFC 7761 §4.1.5 wants one and does not say which. */
export type Choice = 'lowest-address' | 'highest-address';

export function routesTo<R extends Router>(
  graph: RouterGraph<R>,
  to: Wire,
  choiceOf: (router: R) => Choice,
): Routes<R> {
  const costs = new Map<R, number>();
  const open: Heap<{ readonly cost: number; readonly router: R }> = { keys: [], values: [] };
  const reach = (router: R, cost: number): void => {
    push(open, cost, { cost, router });
  };
  const direct = new Map<R, Foot<R>>();
  for (const foot of graph.feetOn(to)) {
    const known = direct.get(foot.on);
    if (known !== undefined && known.cost <= foot.cost) continue;
    direct.set(foot.on, foot);
    reach(foot.on, foot.cost);
  }
  const crossed = new Set<Wire>([to]);
  for (let next = pop(open); next !== undefined; next = pop(open)) {
    const { cost, router } = next;
    if (costs.has(router)) continue;
    costs.set(router, cost);
    for (const { wire } of graph.feetOf(router)) {
      // Whoever gets to a wire first is the nearest of all on it.
      if (crossed.has(wire)) continue;
      crossed.add(wire);
      for (const foot of graph.feetOn(wire)) if (!direct.has(foot.on)) reach(foot.on, cost + foot.cost);
    }
  }
  const known = new Map<R, Route<R>>();
  return {
    graph,
    to,
    of: (router) => {
      const cost = costs.get(router);
      if (cost === undefined) return undefined;
      let route = known.get(router);
      if (route === undefined) {
        const own = direct.get(router);
        route = { cost, direct: own, ways: own === undefined ? waysOf(router, cost) : [] };
        known.set(router, route);
      }
      return route;
    },
  };

  function waysOf(router: R, cost: number): readonly Upstream<R>[] {
    const turn = choiceOf(router) === 'lowest-address' ? 1 : -1;
    return graph
      .feetOf(router)
      .flatMap((foot) =>
        graph
          .feetOn(foot.wire)
          .filter(({ on }) => on !== router && (costs.get(on) ?? Infinity) + foot.cost === cost)
          .map((neighbour): Upstream<R> => ({ foot, neighbour })),
      )
      .sort((a, b) => Number(joins(b)) - Number(joins(a)) || turn * byAddress(a.neighbour, b.neighbour));
  }
}

/** Whether a join can go that way: both ends speak multicast routing. */
export function joins({ foot, neighbour }: Upstream): boolean {
  return foot.multicast && neighbour.multicast;
}
