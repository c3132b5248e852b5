/** Which router serves the hosts of a wire, and which sends a stream into it where several would. */
import { byAddress, type Foot, type Router } from './graph.js';

export interface Designated<R extends Router = Router> {
  readonly foot: Foot<R>;
  /** False where an address that nobody states could make another one win. */
  readonly sure: boolean;
}

/** The designated router: highest priority, then highest address (RFC 7761 §4.3.2). */
export function designatedRouter<R extends Router>(feet: readonly Foot<R>[]): Designated<R> | undefined {
  const able = feet.filter(({ multicast }) => multicast);
  const most = Math.max(...able.map(({ priority }) => priority));
  const [first, ...others] = able.filter(({ priority }) => priority === most);
  if (first === undefined) return undefined;
  const foot = others.reduce(higher, first);
  return { foot, sure: others.length === 0 || [first, ...others].every(({ address }) => address !== undefined) };
}

/** The higher address of two; one that is known before one that is not. */
export function higher<R extends Router>(a: Foot<R>, b: Foot<R>): Foot<R> {
  if (a.address === undefined || b.address === undefined) return byAddress(a, b) <= 0 ? a : b;
  return byAddress(a, b) >= 0 ? a : b;
}
