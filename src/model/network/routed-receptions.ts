/** Receptions whose two ends only routers join, each with the way its stream takes through them. */
import type { Leg, Plan, ReceiverLeg } from '../../plan/types.js';
import { isIPv4 } from '../../values/address.js';
import type { Reception } from '../streams/index.js';
import type { Network } from './flows.js';
import type { ForwardingSegment } from './ground.js';
import type { RoutedWay, Spot } from './routing/routing.js';

export interface RoutedReception {
  readonly leg: Leg;
  readonly taker: ReceiverLeg;
  readonly from: Spot<ForwardingSegment>;
  readonly to: Spot<ForwardingSegment>;
  readonly way: RoutedWay<ForwardingSegment>;
}

/** In plan order; none where no segment has two routers, as then there is no row of them. */
export function routedReceptions(plan: Plan, network: Network, reception: () => Reception): readonly RoutedReception[] {
  if (!network.routing.inRow) return [];
  return plan.receiverLegs.flatMap((taker): readonly RoutedReception[] => {
    const to = spotOf(taker, network);
    if (taker.group === undefined || to === undefined) return [];
    const legs = taker.takes === undefined ? reception().heard(taker) : [taker.takes];
    return legs.flatMap((leg): readonly RoutedReception[] => {
      const from = leg.group === taker.group ? spotOf(leg, network) : undefined;
      if (from === undefined || leg.group === undefined || from.forwarding === to.forwarding) return [];
      return [{ leg, taker, from, to, way: network.routing.way(from, to, isIPv4(leg.group)) }];
    });
  });
}

function spotOf(leg: Leg | ReceiverLeg, network: Network): Spot<ForwardingSegment> | undefined {
  const forwarding = network.forwardingOf(leg);
  const port = leg.interface?.port;
  const node = port === undefined ? undefined : forwarding?.segment.nodeOf.get(port.switch);
  return forwarding === undefined || node === undefined ? undefined : { forwarding, node };
}
