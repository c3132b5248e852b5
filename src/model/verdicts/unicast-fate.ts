/** Whether a stream to one address gets to a receiver that takes it. */
import type { Leg, ReceiverLeg } from '../../plan/types.js';
import { isIPv4 } from '../../values/address.js';
import { addressOf, type Owners } from '../hosts/index.js';
import { type Network, unicastStages, type UnicastStop } from '../network/index.js';
import { DELIVERED, DENIED, type Fate, LACKING } from './fates.js';
import { areJoined, isOutside } from './places.js';

/** Of a leg without a group that is sent to one address. */
export function unicastFate(leg: Leg, taker: ReceiverLeg, network: Network, owners: Owners): Fate {
  const route = network.routeOf(leg);
  const { unicast } = leg;
  if (route === undefined || unicast === undefined) return LACKING.group;
  const via = taker.interface;
  if (via === undefined) return LACKING['receiver interface'];
  const holders = owners.byAddress.get(unicast) ?? [];
  if (!holders.includes(via)) {
    if (holders.length > 0) return DENIED['other address'];
    if (addressOf(via, isIPv4(unicast)) === undefined) return LACKING['receiver address'];
  }
  if (isOutside(leg) || isOutside(taker)) return DENIED['port outside VLAN'];
  if (leg.interface === undefined) return LACKING['sender interface'];
  if (route.stop !== undefined) return STOPS[route.stop];
  const stages = unicastStages(leg, route, network.forwardingAt);
  if (leg.ttl !== undefined && leg.ttl < stages.length) return DENIED['time to live'];
  let fate = DELIVERED;
  stages.forEach(({ forwarding, from, to, router }, index) => {
    if (fate !== DELIVERED) return;
    if (forwarding === undefined || from === undefined)
      fate = index === 0 ? LACKING['sender port'] : LACKING['router port'];
    else if (to === undefined) fate = router === undefined ? LACKING['receiver port'] : LACKING['router port'];
    else if (!areJoined(forwarding, from, to.node)) fate = LACKING.link;
  });
  return fate;
}

const STOPS: Readonly<Record<UnicastStop, Fate>> = {
  'no gateway': DENIED['no gateway'],
  'nobody holds': DENIED['nobody holds'],
  'no link': DENIED['no link'],
  'sender VLAN': LACKING['sender VLAN'],
  'receiver VLAN': LACKING['receiver VLAN'],
  'receiver port': LACKING['receiver port'],
  'address holder': LACKING['address holder'],
  'several holders': LACKING['several holders'],
  gateway: LACKING.gateway,
  'gateway box': LACKING['gateway box'],
  route: LACKING.route,
  'several routes': LACKING['several routes'],
};
