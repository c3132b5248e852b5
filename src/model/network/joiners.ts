/** Who joins a leg, segment by segment. */
import { append } from '../../collections/group-by.js';
import { kept } from '../../collections/kept.js';
import type { Leg, ReceiverLeg } from '../../plan/types.js';
import type { Address } from '../../values/address.js';
import { ethernetAddress } from '../groups/index.js';
import type { Reception } from '../streams/index.js';
import type { Reached } from './flow.js';
import { type ForwardingOf, type ForwardingSegment, planeOf } from './ground.js';
import { joinedSource } from './join-filter.js';

/** Who asked for one key of a group table. */
interface Asked {
  readonly all: Reached[];
  /** Where sources are told apart; under undefined those who take any. */
  readonly bySource: Map<Address | undefined, Reached[]> | undefined;
}

/** So many are found as fast in a list as in a set, which would have to be made for every leg. */
const FEW = 4;

export type Joined = (leg: Leg) => ReadonlyMap<ForwardingSegment, readonly Reached[]>;

/**
 * Who gets a leg, by segment: receivers that take it, and those its switches cannot keep it from because they asked for
 * the same group from any source, or from another where sources are not told apart, or for a group with the same Ethernet
 * address where tables are keyed by it.
 */
export function joinersByGround(
  receiverLegs: readonly ReceiverLeg[],
  forwardingOf: ForwardingOf,
  reception: Reception,
): Joined {
  const byLeg = new Map<Leg, Reached[]>();
  const byKey = new Map<ForwardingSegment, Map<number | bigint, Asked>>();
  const forwardings = new Map<Reached, ForwardingSegment>();
  for (const receiverLeg of receiverLegs) {
    const { interface: via, group } = receiverLeg;
    const forwarding = forwardingOf(receiverLeg);
    const node = via?.port === undefined ? undefined : forwarding?.segment.nodeOf.get(via.port.switch);
    if (via === undefined || forwarding === undefined || node === undefined || group === undefined) continue;
    const reached: Reached = { leg: receiverLeg, node, interface: via };
    forwardings.set(reached, forwarding);
    for (const leg of reception.heard(receiverLeg)) if (leg.group === group) append(byLeg, leg, reached);
    const keys = kept(byKey, forwarding, () => new Map<number | bigint, Asked>());
    const asked = kept(keys, keyIn(forwarding, group), () => ({
      all: [],
      bySource: planeOf(forwarding, group).conduct.keyedBySource
        ? new Map<Address | undefined, Reached[]>()
        : undefined,
    }));
    asked.all.push(reached);
    if (asked.bySource !== undefined) append(asked.bySource, joinedSource(receiverLeg), reached);
  }
  return (leg) => {
    const found = new Map<ForwardingSegment, Reached[]>();
    const add = (reached: Reached): void => {
      const forwarding = forwardings.get(reached);
      if (forwarding !== undefined) append(found, forwarding, reached);
    };
    const own = byLeg.get(leg) ?? [];
    for (const reached of own) add(reached);
    const known = own.length > FEW ? new Set(own) : undefined;
    const addOther = (reached: Reached): void => {
      if (!(known?.has(reached) ?? own.includes(reached))) add(reached);
    };
    const home = forwardingOf(leg);
    const asked =
      home === undefined || leg.group === undefined ? undefined : byKey.get(home)?.get(keyIn(home, leg.group));
    if (home === undefined || asked === undefined) return found;
    if (asked.bySource === undefined || leg.source === undefined) {
      for (const reached of asked.all) addOther(reached);
    } else {
      for (const source of [leg.source, undefined])
        for (const reached of asked.bySource.get(source) ?? []) addOther(reached);
    }
    return found;
  };
}

/** What a switch of the segment can tell apart: a group, or only its Ethernet address. */
function keyIn(forwarding: ForwardingSegment, group: Address): number | bigint {
  // Negative, so that an Ethernet address never equals a group.
  return planeOf(forwarding, group).conduct.keyedByMac.length > 0 ? -ethernetAddress(group) : group;
}
