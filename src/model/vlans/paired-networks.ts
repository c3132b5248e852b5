import { kept } from '../../collections/kept.js';
import type { Network, Plan } from '../../plan/types.js';

/** For each network, those that carry the other legs of its streams. */
export function pairedNetworks(plan: Plan): ReadonlyMap<Network, ReadonlySet<Network>> {
  const found = new Map<Network, Set<Network>>();
  for (const { legs } of plan.senders) {
    if (legs.length < 2) continue;
    for (const a of legs) {
      for (const b of legs) {
        if (a.network === undefined || b.network === undefined || a.network === b.network) continue;
        kept(found, a.network, () => new Set<Network>()).add(b.network);
      }
    }
  }
  return found;
}
