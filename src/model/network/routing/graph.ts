/**
 * Multicast routers and the wires that join them, as a graph without a plan. A wire is a part of a VLAN, or a routed link,
 * on which everybody hears everybody; a foot is where a router stands on one.
 */
import type { Address } from '../../../values/address.js';
import { append } from '../../../collections/group-by.js';
import { byCodeUnit } from '../../../collections/order.js';

export interface Router {
  readonly name: string;
}

export type Wire = number;

export interface Foot<R extends Router = Router> {
  readonly on: R;
  readonly wire: Wire;
  /** What the way out of this interface costs (RFC 2328 §2.1); 1 each counts routers. */
  readonly cost: number;
  /** False where it has unicast routes only: it joins nothing and is asked for nothing (RFC 7761 §4.3.1). */
  readonly multicast: boolean;
  /** DR priority (RFC 7761 §4.3.2). */
  readonly priority: number;
  /** Its address on the wire; undefined where the plan does not say. */
  readonly address: Address | undefined;
}

export interface RouterGraph<R extends Router = Router> {
  readonly feetOn: (wire: Wire) => readonly Foot<R>[];
  readonly feetOf: (router: R) => readonly Foot<R>[];
}

export function routerGraph<R extends Router>(feet: readonly Foot<R>[]): RouterGraph<R> {
  const byWire = new Map<Wire, Foot<R>[]>();
  const byRouter = new Map<R, Foot<R>[]>();
  for (const foot of feet) {
    append(byWire, foot.wire, foot);
    append(byRouter, foot.on, foot);
  }
  return { feetOn: (wire) => byWire.get(wire) ?? [], feetOf: (router) => byRouter.get(router) ?? [] };
}

/** Lower addresses first; feet whose address nobody knows after the others, by name. */
export function byAddress<R extends Router>(a: Foot<R>, b: Foot<R>): number {
  if (a.address !== undefined && b.address !== undefined && typeof a.address === typeof b.address)
    return a.address < b.address ? -1 : a.address > b.address ? 1 : byCodeUnit(a.on.name, b.on.name);
  if (a.address !== undefined || b.address !== undefined) return a.address === undefined ? 1 : -1;
  return byCodeUnit(a.on.name, b.on.name) || a.wire - b.wire;
}
