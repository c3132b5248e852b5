/**
 * Link directions that end at a port the spanning tree keeps blocked, as `from>to`. The other end is a designated port, which
 * forwards (IEEE 802.1D-2004 §17.10), so what is flooded there goes into the link; the blocked port drops it.
 */
import { createModel } from '../../src/model/model.js';
import type { Plan } from '../../src/plan/types.js';

export function blockedDirections(plan: Plan): ReadonlySet<string> {
  const parts = new Set(createModel(plan).network.forwardings.flatMap((one) => one.parts));
  const found = new Set<string>();
  for (const { layout } of parts) {
    for (const link of plan.links) {
      const blocked = layout.blockedAt(link);
      const other = link.ends.find((end) => end !== blocked);
      if (blocked !== undefined) found.add(`${other?.switch?.name ?? ''}>${blocked.switch?.name ?? ''}`);
    }
  }
  return found;
}
