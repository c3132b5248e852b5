/** Streams that a multicast router has to carry from the VLAN they are sent in to one where a receiver takes them. */
import type { Leg, Plan, ReceiverLeg, Vlan } from '../../plan/types.js';
import type { Domain, Domains } from '../vlans/index.js';
import type { Address } from '../../values/address.js';
import { isIPv4 } from '../../values/address.js';
import { kept } from '../../collections/kept.js';
import type { Reception } from '../streams/index.js';
import type { Network } from './flows.js';
import type { RoutedReception } from './routed-receptions.js';

export interface Crossing {
  readonly leg: Leg;
  readonly by: ReceiverLeg;
  readonly from: Vlan;
  readonly to: Vlan;
  readonly fromDomain: Domain;
  readonly toDomain: Domain;
  /** VLANs between the two that the stream passes through. */
  readonly over: readonly Vlan[];
  /** Whether the routers on the way could get to an address of the plan; true where nobody can tell. */
  readonly reaches: (address: Address) => boolean;
}

/** Every reception whose two ends are in different VLANs that routing joins, in plan order. */
export function crossingsOf(
  plan: Plan,
  domains: Domains,
  reception: Reception,
  network: Network,
  routed: () => readonly RoutedReception[],
): readonly Crossing[] {
  if (!plan.vlans.some(({ routing }) => routing !== undefined && routing.mode !== 'none')) return [];
  const found: Crossing[] = [];
  const ways = waysBy(network.routing.inRow ? routed() : []);
  const look = (by: ReceiverLeg, to: Vlan, leg: Leg): void => {
    const { vlan: from } = leg;
    if (from === undefined || from === to || leg.group === undefined || leg.group !== by.group) return;
    const fromDomain = domains.switched(leg);
    const toDomain = domains.switched(by);
    if (fromDomain !== toDomain && domains.reach(leg) === domains.reach(by))
      found.push({ leg, by, from, to, fromDomain, toDomain, ...between(ways.get(by)?.get(leg), network) });
  };
  for (const by of plan.receiverLegs) {
    const { vlan: to, takes } = by;
    if (to === undefined) continue;
    // Most take a leg, and most of those in their own VLAN.
    if (takes !== undefined) look(by, to, takes);
    else if (by.group !== undefined) for (const leg of reception.heard(by)) look(by, to, leg);
  }
  return found;
}

function waysBy(receptions: readonly RoutedReception[]): ReadonlyMap<ReceiverLeg, ReadonlyMap<Leg, RoutedReception>> {
  const found = new Map<ReceiverLeg, Map<Leg, RoutedReception>>();
  for (const one of receptions) kept(found, one.taker, () => new Map<Leg, RoutedReception>()).set(one.leg, one);
  return found;
}

const DIRECT: Pick<Crossing, 'over' | 'reaches'> = { over: [], reaches: () => true };

function between(one: RoutedReception | undefined, { routing }: Network): Pick<Crossing, 'over' | 'reaches'> {
  if (one?.way.kind !== 'way') return DIRECT;
  const { stages } = one.way;
  return {
    over: stages.slice(1, -1).flatMap(({ forwarding }) => forwarding.segment.domain.vlans),
    reaches: (address) => {
      const holder = routing.feet.find(({ on }) =>
        'ports' in on
          ? on.addresses.some((held) => held.address === address)
          : on.interfaces.some((via) => via.address === address || via.address6 === address),
      );
      const wire = routing.wireOf(one.from);
      return (
        holder === undefined ||
        wire === undefined ||
        routing.routesTo(wire, isIPv4(address)).of(holder.on) !== undefined
      );
    },
  };
}
