/** Why a link or port carries a stream, told apart by what those who joined asked for. */
import type { Device, Leg, ReceiverLeg, Switch } from '../../plan/types.js';
import { ethernetAddress } from '../groups/index.js';
import type { Reception } from '../streams/index.js';
import { isOutside } from '../verdicts/index.js';
import { type CarryReason, type FloodReason, type Flow, joinedSource, type Sink } from '../network/index.js';

export type Why =
  /** They take this very stream. */
  | { readonly kind: 'joined'; readonly by: readonly ReceiverLeg[] }
  /** They joined its group for another sender or source. */
  | { readonly kind: 'same group'; readonly by: readonly ReceiverLeg[] }
  /** They joined another group of the same multicast MAC (RFC 1112 §6.4). */
  | { readonly kind: 'alias'; readonly by: readonly ReceiverLeg[] }
  /** Sent to the one address this box holds, or on to it by this box. */
  | { readonly kind: 'addressed'; readonly to: Switch | Device; readonly by: readonly ReceiverLeg[] }
  | { readonly kind: 'towards'; readonly what: Sink['why'] | 'set by hand'; readonly on: Switch | Device }
  /** Bound to the port by hand, and nobody behind it asked. */
  | { readonly kind: 'bound'; readonly at: Switch }
  | { readonly kind: 'flooded'; readonly reason: FloodReason };

/** One reason of the model as the reasons it is made of. */
export function whyCarried(leg: Leg, reason: CarryReason, reception: Reception): readonly Why[] {
  if (reason.kind === 'flooded') return [{ kind: 'flooded', reason: reason.why }];
  if (reason.kind === 'addressed') return [reason];
  if (reason.kind === 'router port') return [{ kind: 'towards', what: reason.why, on: reason.towards }];
  if (reason.kind === 'bound') return [reason];
  const by = [...new Set(reason.by)];
  const delivered = by.filter((one) => isDelivered(leg, one, reception));
  const others = by.filter((one) => !delivered.includes(one));
  const whys: readonly Why[] = [
    { kind: 'joined', by: delivered },
    { kind: 'same group', by: others.filter((one) => one.group === leg.group) },
    { kind: 'alias', by: others.filter((one) => one.group !== leg.group) },
  ];
  return whys.filter((why) => !('by' in why) || why.by.length > 0);
}

/** Whether a receiver leg means this leg and joins what it sends. */
function isDelivered(leg: Leg, receiverLeg: ReceiverLeg, reception: Reception): boolean {
  if (receiverLeg.group !== leg.group || !acceptsSource(leg, receiverLeg)) return false;
  return receiverLeg.takes === leg || (receiverLeg.takes === undefined && reception.heard(receiverLeg).includes(leg));
}

/** The flow without receivers that joined something its switches can tell from it, or that hang on a port outside its VLAN. */
export function withoutStrangers(flow: Flow): Flow {
  const { leg, plane } = flow;
  if (flow.to !== undefined) return flow;
  const { group } = leg;
  const { keyedByMac, keyedBySource } = plane.conduct;
  const receivers = flow.receivers.filter(({ leg: one }) => {
    if (group === undefined || one.group === undefined || isOutside(one)) return false;
    if (one.group !== group) return keyedByMac.length > 0 && ethernetAddress(one.group) === ethernetAddress(group);
    return !keyedBySource || acceptsSource(leg, one);
  });
  return receivers.length === flow.receivers.length ? flow : { ...flow, receivers };
}

function acceptsSource(leg: Leg, receiverLeg: ReceiverLeg): boolean {
  const wanted = joinedSource(receiverLeg);
  return wanted === undefined || leg.source === undefined || wanted === leg.source;
}
