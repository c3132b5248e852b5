/** What a receiver asks its switch for: a group from anyone, or from one source only. */
import { isIPv4, type Address } from '../../values/address.js';
import { FILTERING_VERSION } from '../groups/index.js';
import type { Interface, ReceiverLeg } from '../../plan/types.js';

/**
 * The one source a receiver joins its group for (RFC 3376 §3.2, INCLUDE mode). Undefined where it takes any: because it
 * says so, because nothing is said, or because the source is not known.
 */
export function joinedSource(taker: ReceiverLeg): Address | undefined {
  const { source, join, takes } = taker;
  if (join === 'any' || speaksNoSources(taker)) return undefined;
  if (source !== undefined) return source;
  return takes !== undefined && (join === 'stated' || takes.sourceStated) ? takes.source : undefined;
}

/**
 * Whether the host of a receiver states a version of its own whose reports name no source (RFC 2236 §2, RFC 2710 §3). The
 * other hosts and their switches go on as they are, as far as switches tell sources apart (measured on Linux bridges).
 */
export function speaksNoSources({ interface: via, group }: ReceiverLeg): boolean {
  const version = ownVersion(via, group);
  return version !== undefined && version < FILTERING_VERSION[group === undefined || isIPv4(group) ? 'igmp' : 'mld'];
}

/** The IGMP or MLD version an interface itself states, by the family of a group. */
export function ownVersion(via: Interface | undefined, group: Address | undefined): number | undefined {
  return group === undefined || isIPv4(group) ? via?.igmpVersion : via?.mldVersion;
}
