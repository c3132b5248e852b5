/** Streams that a receiver takes from a VLAN that nothing routes to its own. */
import { kept } from '../../collections/kept.js';
import type { Leg, Plan, ReceiverLeg, Vlan } from '../../plan/types.js';
import type { Domains } from './domains.js';
import { sameMeaning } from './trunks.js';

export interface Unrouted {
  readonly from: Vlan;
  readonly to: Vlan;
  readonly legs: ReadonlySet<Leg>;
  readonly takers: ReadonlySet<ReceiverLeg>;
}

/** Per pair of VLANs, in plan order. `strays`: legs of which it is known that they are sent in the wrong place. */
export function unroutedPairs(
  { receiverLegs }: Plan,
  domains: Domains,
  strays: () => ReadonlySet<Leg>,
): readonly Unrouted[] {
  const found = new Map<Vlan, Map<Vlan, Draft>>();
  for (const taker of receiverLegs) {
    const { takes, vlan: to } = taker;
    const from = takes?.vlan;
    if (takes?.group === undefined || from === undefined || to === undefined) continue;
    if (sameMeaning(from, to) || domains.reach(takes) === domains.reach(taker)) continue;
    if (arrivesElsewhere(taker, takes, domains) || strays().has(takes)) continue;
    const pair = kept(
      kept(found, from, () => new Map<Vlan, Draft>()),
      to,
      () => ({ from, to, legs: new Set<Leg>(), takers: new Set<ReceiverLeg>() }),
    );
    pair.legs.add(takes);
    pair.takers.add(taker);
  }
  return [...found.values()].flatMap((byTo) => [...byTo.values()]);
}

interface Draft extends Unrouted {
  readonly legs: Set<Leg>;
  readonly takers: Set<ReceiverLeg>;
}

/** A receiver with more legs than the sender gets the stream on those that fit. */
function arrivesElsewhere(leg: ReceiverLeg, takes: Leg, domains: Domains): boolean {
  const domain = domains.reach(takes);
  return leg.receiver.legs.some((other) => other !== leg && other.takes === takes && domains.reach(other) === domain);
}
