/** Which fact keeps the model from knowing the switch port something hangs on. */
import type { Interface, Leg } from '../../plan/types.js';
import type { Network } from './flows.js';

/** In the order in which a plan would be completed. */
export const PLACE_FACTS = ['interface', 'VLAN', 'switch port'] as const;
export type PlaceFact = (typeof PLACE_FACTS)[number];

/** Anything that stands on the network: a sender leg or a receiver leg. */
export interface AnyLeg {
  readonly interface: Interface | undefined;
  readonly vlan: Leg['vlan'];
  readonly network: Leg['network'];
}

/** The first fact that is missing; undefined when the place is known. A port outside the VLAN counts as no port. */
export function placeGap(leg: AnyLeg, network: Network): PlaceFact | undefined {
  const { interface: via, vlan } = leg;
  if (via === undefined) return 'interface';
  if (vlan === undefined) return 'VLAN';
  const node = via.port === undefined ? undefined : network.forwardingOf(leg)?.segment.nodeOf.get(via.port.switch);
  return node === undefined ? 'switch port' : undefined;
}
