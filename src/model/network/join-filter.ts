/** What a receiver asks its switch for: a group from anyone, or from one source only. */
import type { Address } from '../../values/address.js';
import type { ReceiverLeg } from '../../plan/types.js';

/**
 * The one source a receiver joins its group for (RFC 3376 §3.2, INCLUDE mode). Undefined where it takes any: because it
 * says so, because nothing is said, or because the source is not known.
 */
export function joinedSource({ source, join, takes }: ReceiverLeg): Address | undefined {
  if (join === 'any') return undefined;
  if (source !== undefined) return source;
  return takes !== undefined && (join === 'stated' || takes.sourceStated) ? takes.source : undefined;
}
