/**
 * The ways of one stream to several wires, put together: every wire gets it once, however many chains pass it, and from one
 * router, for those that would all send it settle that among them (RFC 7761 §4.6).
 */
import { addTo } from '../../../collections/group-by.js';
import type { Hop } from './chain.js';
import { higher } from './designated.js';
import type { Router, Wire } from './graph.js';
import type { Routes } from './routes.js';

/** A wire that gets the stream, by the hop that brings it there. */
export interface Branch<R extends Router = Router> {
  readonly hop: Hop<R>;
  /** What goes on from the wire. */
  readonly next: readonly Branch<R>[];
}

/** The first branches, those that leave the source's own wire, with all that hangs on them. */
export function branchesOf<R extends Router>(
  routes: Routes<R>,
  chains: ReadonlyMap<Wire, readonly Hop<R>[]>,
): readonly Branch<R>[] {
  const winners = new Map<Wire, Hop<R>>();
  for (const hops of chains.values()) {
    for (const hop of hops) {
      const known = winners.get(hop.out.wire);
      if (known === undefined || (known.out !== hop.out && winnerOf(routes, known, hop) === hop))
        winners.set(hop.out.wire, hop);
    }
  }
  const below = new Map<Wire, Set<Wire>>();
  const seen = new Set<Wire>();
  for (const wanted of chains.keys()) {
    for (let wire = wanted; wire !== routes.to && !seen.has(wire);) {
      seen.add(wire);
      const hop = winners.get(wire);
      if (hop === undefined) break;
      addTo(below, hop.into.wire, wire);
      wire = hop.into.wire;
    }
  }
  const from = (wire: Wire): readonly Branch<R>[] =>
    [...(below.get(wire) ?? [])].flatMap((to): Branch<R>[] => {
      const hop = winners.get(to);
      return hop === undefined ? [] : [{ hop, next: from(to) }];
    });
  return from(routes.to);
}

/** Who goes on sending into a wire: the lower cost to the source, then the higher address (RFC 7761 §4.6.3). */
function winnerOf<R extends Router>(routes: Routes<R>, a: Hop<R>, b: Hop<R>): Hop<R> {
  const mine = routes.of(a.router)?.cost ?? Infinity;
  const theirs = routes.of(b.router)?.cost ?? Infinity;
  if (mine !== theirs) return mine < theirs ? a : b;
  return higher(a.out, b.out) === a.out ? a : b;
}
