/** Why a receiver does not get a leg, with what the plan says of it. Worked out where somebody reads it. */
import type { Device, Leg, Port, Receiver, ReceiverLeg, Switch, Vlan } from '../../plan/types.js';
import { isIPv4, type Address } from '../../values/address.js';
import { ownerLabel, type Owners } from '../hosts/index.js';
import { planeOf, type Network, type PlaceFact, type RoutedWay, unboundOn } from '../network/index.js';
import { denialOf, type Fate, type Lack, lackOf } from './fates.js';
import { wantedSource } from './judge.js';
import { isOutside } from './places.js';

/** A receiver and the leg of it; no leg where the receiver as a whole is meant. */
export interface Taker {
  readonly receiver: Receiver;
  readonly receiverLeg: ReceiverLeg | undefined;
}

export interface Unreached extends Taker {
  readonly why: UnreachedWhy;
}

export type UnreachedWhy =
  | { readonly kind: 'sender unknown' }
  | { readonly kind: 'place unknown'; readonly lacks: PlaceFact }
  | { readonly kind: 'leg not taken' }
  | { readonly kind: 'joins nothing' }
  /** A fact about a stream to one address. */
  | { readonly kind: 'way unknown'; readonly lacks: Lack }
  | { readonly kind: 'no gateway'; readonly vlan: Vlan; readonly address: Address }
  | { readonly kind: 'nobody holds'; readonly address: Address }
  | { readonly kind: 'other address'; readonly address: Address; readonly holder: string }
  | { readonly kind: 'nobody sends' }
  | { readonly kind: 'other group'; readonly joins: Address }
  | { readonly kind: 'other source'; readonly expects: Address }
  | { readonly kind: 'other UDP port'; readonly listens: number; readonly sent: number }
  | { readonly kind: 'port outside VLAN'; readonly side: 'sender' | 'receiver'; readonly vlan: Vlan }
  | { readonly kind: 'no querier'; readonly vlan: Vlan; readonly membershipS: number }
  /** At a switch on the way that binds groups to ports by hand. */
  | { readonly kind: 'not bound'; readonly at: Switch; readonly ports: readonly Port[]; readonly group: Address }
  | { readonly kind: 'no rendezvous point'; readonly from: Vlan; readonly to: Vlan }
  | { readonly kind: 'refused join' | 'not multicast'; readonly group: Address }
  | { readonly kind: 'no link' | 'blocked link'; readonly from: Switch; readonly to: Switch }
  | { readonly kind: 'no named router'; readonly from: Vlan; readonly to: Vlan }
  | { readonly kind: 'not routed'; readonly from: Vlan; readonly to: Vlan }
  | { readonly kind: 'routers apart'; readonly from: Vlan; readonly to: Vlan }
  /** A router asks for the stream where nobody takes its joins, or knows no way to its source. */
  | { readonly kind: 'no way back'; readonly at: Switch | Device | undefined; readonly source: Address | undefined }
  /** `routers`: how many the stream would have to pass. */
  | { readonly kind: 'time to live'; readonly ttl: number; readonly routers: number }
  /** To one group, or to one address and UDP port. */
  | { readonly kind: 'two senders'; readonly to: Address }
  | {
      readonly kind:
        'duplicate address' | 'unusable address' | 'unusable source' | 'unusable MAC' | 'packet size' | 'storm';
    }
  | { readonly kind: 'VLAN id'; readonly vlan: Vlan };

export interface WhyModel {
  readonly network: Network;
  readonly owners: Owners;
}

/** `fate` is what the judge said of the two, and not a delivery. */
export function whyUnreached(fate: Fate, leg: Leg | undefined, taker: ReceiverLeg, model: WhyModel): UnreachedWhy {
  const denial = denialOf(fate);
  const lack = lackOf(fate);
  if (leg === undefined) return denial === 'nobody sends' ? { kind: 'nobody sends' } : { kind: 'sender unknown' };
  if (denial === undefined) return lack === undefined ? { kind: 'sender unknown' } : whyUnknown(lack, leg, taker);
  const from = leg.interface?.port?.switch;
  const to = taker.interface?.port?.switch;
  switch (denial) {
    case 'other group':
      return taker.group === undefined ? { kind: 'joins nothing' } : { kind: denial, joins: taker.group };
    case 'other source': {
      const expects = wantedSource(taker);
      return expects === undefined ? { kind: 'sender unknown' } : { kind: denial, expects };
    }
    case 'other UDP port':
      return { kind: denial, listens: taker.port ?? 0, sent: leg.port ?? 0 };
    case 'port outside VLAN': {
      const side = isOutside(leg) ? 'sender' : 'receiver';
      const { vlan } = side === 'sender' ? leg : taker;
      return vlan === undefined ? { kind: 'place unknown', lacks: 'VLAN' } : { kind: denial, side, vlan };
    }
    case 'no querier': {
      const { vlan } = taker;
      const forwarding = model.network.forwardingOf(taker);
      const membershipS = forwarding === undefined ? 0 : planeOf(forwarding, leg.group).conduct.membershipS;
      return vlan === undefined ? { kind: 'place unknown', lacks: 'VLAN' } : { kind: denial, vlan, membershipS };
    }
    case 'not bound': {
      const [first] = unboundOn(leg, taker, model.network);
      return first === undefined || leg.group === undefined
        ? { kind: 'sender unknown' }
        : { kind: denial, at: first.switch, ports: first.ports, group: leg.group };
    }
    case 'no link':
    case 'blocked link':
      return from === undefined || to === undefined ? { kind: 'sender unknown' } : { kind: denial, from, to };
    case 'refused join':
    case 'not multicast':
      return leg.group === undefined ? { kind: 'joins nothing' } : { kind: denial, group: leg.group };
    case 'no rendezvous point':
    case 'not routed':
    case 'routers apart':
      return between(denial, leg, taker);
    case 'two senders': {
      const to = leg.group ?? leg.unicast;
      return to === undefined ? { kind: 'joins nothing' } : { kind: denial, to };
    }
    case 'VLAN id':
      return leg.vlan === undefined ? { kind: 'place unknown', lacks: 'VLAN' } : { kind: denial, vlan: leg.vlan };
    case 'no way back': {
      const way = routedBetween(leg, taker, model);
      return { kind: denial, at: way?.kind === 'no neighbour' ? way.at : undefined, source: leg.source };
    }
    case 'time to live': {
      const way = routedBetween(leg, taker, model);
      return { kind: denial, ttl: leg.ttl ?? 0, routers: way?.kind === 'way' ? way.stages.length - 1 : 1 };
    }
    case 'nobody sends':
    case 'duplicate address':
    case 'unusable address':
    case 'unusable source':
    case 'unusable MAC':
    case 'packet size':
    case 'storm':
      return { kind: denial };
    case 'no gateway':
      return leg.vlan === undefined || leg.unicast === undefined
        ? { kind: 'sender unknown' }
        : { kind: denial, vlan: leg.vlan, address: leg.unicast };
    case 'nobody holds':
      return leg.unicast === undefined ? { kind: 'sender unknown' } : { kind: denial, address: leg.unicast };
    case 'other address': {
      const { unicast } = leg;
      const [holder] = unicast === undefined ? [] : (model.owners.byAddress.get(unicast) ?? []);
      return unicast === undefined || holder === undefined
        ? { kind: 'sender unknown' }
        : { kind: denial, address: unicast, holder: ownerLabel(holder) };
    }
  }
}

function whyUnknown(lack: Lack, leg: Leg, taker: ReceiverLeg): UnreachedWhy {
  switch (lack) {
    case 'link': {
      const from = leg.interface?.port?.switch;
      const to = taker.interface?.port?.switch;
      return from === undefined || to === undefined ? { kind: 'sender unknown' } : { kind: 'no link', from, to };
    }
    case 'router':
      return between('no named router', leg, taker);
    case 'routing':
      return between('not routed', leg, taker);
    case 'receiver port':
      return { kind: 'place unknown', lacks: 'switch port' };
    case 'receiver VLAN':
      return { kind: 'place unknown', lacks: 'VLAN' };
    case 'receiver interface':
      return { kind: 'place unknown', lacks: 'interface' };
    case 'route':
    case 'several routes':
    case 'router port':
    case 'gateway box':
    case 'gateway':
    case 'several holders':
    case 'address holder':
    case 'receiver address':
      return { kind: 'way unknown', lacks: lack };
    case 'rate':
    case 'source':
    case 'group':
    case 'sender port':
    case 'sender VLAN':
    case 'sender interface':
    case 'sender leg':
    case 'senders':
    case 'stream':
      return { kind: 'sender unknown' };
  }
}

function between(
  kind: 'not routed' | 'no named router' | 'no rendezvous point' | 'routers apart',
  leg: Leg,
  taker: ReceiverLeg,
): UnreachedWhy {
  return leg.vlan === undefined || taker.vlan === undefined
    ? { kind: 'sender unknown' }
    : { kind, from: leg.vlan, to: taker.vlan };
}

function routedBetween(leg: Leg, taker: ReceiverLeg, { network }: WhyModel): RoutedWay | undefined {
  const from = network.forwardingOf(leg);
  const to = network.forwardingOf(taker);
  const start = leg.interface?.port === undefined ? undefined : from?.segment.nodeOf.get(leg.interface.port.switch);
  const end = taker.interface?.port === undefined ? undefined : to?.segment.nodeOf.get(taker.interface.port.switch);
  if (from === undefined || to === undefined || start === undefined || end === undefined) return undefined;
  return network.routing.way(
    { forwarding: from, node: start },
    { forwarding: to, node: end },
    leg.group === undefined || isIPv4(leg.group),
  );
}
