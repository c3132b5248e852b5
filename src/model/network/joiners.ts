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
  readonly all: Asker[];
  /** Where sources are told apart; under undefined those who take any. */
  readonly bySource: Map<Address | undefined, Asker[]> | undefined;
}

/** Who gets a leg. */
export interface Joiners {
  /** In the segment it starts in. */
  readonly here: readonly Reached[];
  /** By segment, beyond routers. */
  readonly beyond: ReadonlyMap<ForwardingSegment, readonly Reached[]>;
}

export type Joined = (leg: Leg, home: ForwardingSegment) => Joiners;

/** One who asks, with the segment it stands in. */
interface Asker extends Reached {
  readonly forwarding: ForwardingSegment;
}

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
  const byLeg = new Map<Leg, Asker[]>();
  const byKey = new Map<ForwardingSegment, Map<number | bigint, Asked>>();
  for (const receiverLeg of receiverLegs) {
    const { interface: via, group } = receiverLeg;
    const forwarding = forwardingOf(receiverLeg);
    const node = via?.port === undefined ? undefined : forwarding?.segment.nodeOf.get(via.port.switch);
    if (via === undefined || forwarding === undefined || node === undefined || group === undefined) continue;
    const reached: Asker = { leg: receiverLeg, node, interface: via, forwarding };
    for (const leg of reception.heard(receiverLeg)) if (leg.group === group) append(byLeg, leg, reached);
    const keys = kept(byKey, forwarding, () => new Map<number | bigint, Asked>());
    const key = keyIn(forwarding, group);
    const asked = keys.get(key);
    if (asked === undefined) {
      const { keyedBySource } = planeOf(forwarding, group).conduct;
      const bySource = keyedBySource ? new Map([[joinedSource(receiverLeg), [reached]]]) : undefined;
      keys.set(key, { all: [reached], bySource });
      continue;
    }
    asked.all.push(reached);
    if (asked.bySource !== undefined) append(asked.bySource, joinedSource(receiverLeg), reached);
  }
  return (leg, home) => {
    const own = byLeg.get(leg) ?? NOBODY;
    const asked = leg.group === undefined ? undefined : byKey.get(home)?.get(keyIn(home, leg.group));
    const here = own.every((one) => one.forwarding === home) ? own : own.filter((one) => one.forwarding === home);
    const others = asked === undefined ? NOBODY : askersOf(asked, leg);
    return {
      here: others.every((one, index) => one === here[index]) ? here : withOthers(here, others),
      beyond: here === own ? NOWHERE : beyondOf(own, home),
    };
  };
}

const NOBODY: readonly Asker[] = [];
const NOWHERE: Joiners['beyond'] = new Map();

/** Those who asked for what a switch takes for the leg. */
function askersOf({ all, bySource }: Asked, { source }: Leg): readonly Asker[] {
  if (bySource === undefined || source === undefined) return all;
  const exact = bySource.get(source) ?? NOBODY;
  const any = bySource.get(undefined) ?? NOBODY;
  return exact.length === 0 ? any : any.length === 0 ? exact : [...exact, ...any];
}

function withOthers(own: readonly Asker[], others: readonly Asker[]): readonly Asker[] {
  if (own.length === 0) return others;
  const known = new Set(own);
  return [...own, ...others.filter((one) => !known.has(one))];
}

function beyondOf(own: readonly Asker[], home: ForwardingSegment): Joiners['beyond'] {
  const found = new Map<ForwardingSegment, Asker[]>();
  for (const one of own) if (one.forwarding !== home) append(found, one.forwarding, one);
  return found;
}

/** What a switch of the segment can tell apart: a group, or only its multicast MAC. */
function keyIn(forwarding: ForwardingSegment, group: Address): number | bigint {
  // Negative, so that a multicast MAC never equals a group.
  return planeOf(forwarding, group).conduct.keyedByMac.length > 0 ? -ethernetAddress(group) : group;
}
