/**
 * Which routers bring a stream to one wire. The designated router of the wire joins towards the source, and each router it
 * asks does the same, each by its own unicast route (RFC 7761 §4.1.5, §4.5.5): the stream goes this chain backwards.
 */
import { designatedRouter, type Designated } from './designated.js';
import type { Foot, Router, Wire } from './graph.js';
import { joins, type Routes, type Upstream } from './routes.js';

/** A router on the way, with the foot the stream comes in by and the one it leaves by. */
export interface Hop<R extends Router = Router> {
  readonly router: R;
  readonly into: Foot<R>;
  readonly out: Foot<R>;
}

/** A router that has several ways of equal cost. */
export interface Tie<R extends Router = Router> {
  readonly router: R;
  readonly ways: readonly Upstream<R>[];
}

export type Chain<R extends Router = Router> =
  | {
      readonly kind: 'chain';
      /** From the source. */
      readonly hops: readonly Hop<R>[];
      readonly ties: readonly Tie<R>[];
      readonly designated: Designated<R>;
    }
  /** No multicast router stands on the wire. */
  | { readonly kind: 'no router' }
  /** The routers of the two wires do not meet. */
  | { readonly kind: 'apart'; readonly at: R }
  /** The way back goes to a neighbour that takes no joins. */
  | { readonly kind: 'no neighbour'; readonly at: R; readonly way: Upstream<R> };

export function chainTo<R extends Router>(routes: Routes<R>, wire: Wire): Chain<R> {
  const designated = designatedRouter(routes.graph.feetOn(wire));
  if (designated === undefined) return { kind: 'no router' };
  const hops: Hop<R>[] = [];
  const ties: Tie<R>[] = [];
  // What a router tells of its way grows less from one to the next, so that this ends.
  for (let out = designated.foot; ;) {
    const router = out.on;
    const route = routes.of(router);
    const way = route?.ways[0];
    if (route?.direct !== undefined) {
      if (!route.direct.multicast) return { kind: 'apart', at: router };
      hops.push({ router, into: route.direct, out });
      return { kind: 'chain', hops: hops.reverse(), ties, designated };
    }
    if (route === undefined || way === undefined) return { kind: 'apart', at: router };
    if (!joins(way)) return { kind: 'no neighbour', at: router, way };
    const equal = route.ways.filter(joins);
    if (equal.length > 1) ties.push({ router, ways: equal });
    // A router never sends back what comes in by the same interface (RFC 7761 §4.2): the neighbour it asks serves the wire.
    if (way.foot.wire === wire) hops.length = 0;
    else hops.push({ router, into: way.foot, out });
    out = way.neighbour;
  }
}
