import { inPrefix, type Address } from '../plan/address.js';
import type { Leg } from '../plan/types.js';

/**
 * Whether receivers can tell the streams of a group apart by source: each stream has sources of its own, and the group
 * is source-specific in every rig, or every leg states its source in a VLAN that reports sources (IGMPv3, RFC 3376 §1;
 * MLDv2, RFC 3810 §1).
 */
export function keptApartBySource(group: Address, legs: readonly Leg[], owner: (leg: Leg) => object): boolean {
  const bySource = new Map<Address, object>();
  for (const leg of legs) {
    if (leg.source === undefined) return false;
    const other = bySource.get(leg.source);
    if (other !== undefined && other !== owner(leg)) return false;
    bySource.set(leg.source, owner(leg));
  }
  return legs.every((leg) => leg.sender.rig.practice.sourceSpecific.some((prefix) => inPrefix(group, prefix))) || legs.every(filterable);
}

function filterable(leg: Leg): boolean {
  if (!leg.sourceStated) return false;
  return typeof leg.group === 'number' ? leg.vlan?.igmp?.version === 3 : leg.vlan?.mld?.version === 2;
}
