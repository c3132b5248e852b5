/**
 * Whether a leg gets to a receiver leg that means it. One answer for a lint of all legs and for the trace of one stream.
 *
 * Delivered means that its packets come to the port of the host and to the UDP port the receiver listens on: whether it
 * can decode them is another question. What denies a delivery counts before what is not known.
 */
import { once } from '../../collections/once.js';
import type { Leg, Plan, ReceiverLeg } from '../../plan/types.js';
import { inPrefix, isIPv4, isMulticast, type Address } from '../../values/address.js';
import { filtersSources, isSourceSpecificFor } from '../groups/index.js';
import {
  type Crossing,
  type ForwardingSegment,
  anyBound,
  anyUnqueried,
  isForgotten,
  joinedSource,
  lasts,
  type Network,
  type Spot,
  speaksNoSources,
  stormGrounds,
  stuckCrossings,
  unboundOn,
} from '../network/index.js';
import { type Domain, type Domains, sameMeaning } from '../vlans/index.js';
import { type Owners, subnetFor } from '../hosts/index.js';
import { DELIVERED, DENIED, denialOf, type Fate, LACKING } from './fates.js';
import { areJoined, isOutside } from './places.js';
import { createSpoiled, type SpoilModel } from './spoiled.js';
import { unicastFate } from './unicast-fate.js';

/** The parts of the model the way of one leg depends on. */
export interface JudgeModel {
  readonly plan: Plan;
  readonly network: Network;
  readonly domains: Domains;
  readonly owners: Owners;
  /** Asked only where a stream crosses a router. */
  readonly crossings: () => readonly Crossing[];
  /** What else may spoil a delivery. */
  readonly spoils: SpoilModel;
}

/** What becomes of a leg on its way to one receiver leg. */
export type Judge = (leg: Leg, taker: ReceiverLeg) => Fate;

export function createJudge(model: JudgeModel): Judge {
  const someForget = once(() => anyUnqueried(model.network));
  const someBound = once(() => anyBound(model.network));
  const stuck = once(() => stuckPairs(model));
  const statesRouting = once(() => model.plan.vlans.some(({ routing }) => routing !== undefined));
  const plain: Judge = (leg, taker) => {
    const joined = joinFate(leg, taker);
    if (joined !== DELIVERED) return joined;
    if (leg.group === undefined) return unicastFate(leg, taker, model.network, model.owners);
    const placed = placeFate(leg, taker, model, statesRouting);
    if (placed !== DELIVERED) return placed;
    const way = wayFate(leg, taker, model, stuck);
    if (way !== DELIVERED) return way;
    if (someBound() && unboundOn(leg, taker, model.network).length > 0) return DENIED['not bound'];
    if (someForget() && isForgotten(leg, taker, model.network)) return DENIED['no querier'];
    return leg.source === undefined && lacksSource(leg) ? LACKING.source : DELIVERED;
  };
  const spoiled = createSpoiled(model.spoils, plain);
  const storms = once(() => stormGrounds(model.network));
  const drowns = ({ forwardingOf }: Network, one: Leg | ReceiverLeg): boolean => {
    const ground = forwardingOf(one);
    return ground !== undefined && storms().has(ground);
  };
  return (leg, taker) => {
    const fate = plain(leg, taker);
    const { network } = model;
    if (fate === DELIVERED && network.parts.length > 0 && (drowns(network, leg) || drowns(network, taker)))
      return DENIED.storm;
    return denialOf(fate) === undefined ? (spoiled(leg, taker) ?? fate) : fate;
  };
}

/** The source a receiver leg takes its group from; undefined where it takes any. */
export function wantedSource(taker: ReceiverLeg): Address | undefined {
  return taker.source ?? joinedSource(taker);
}

/** What the receiver asks for, held against what is sent. */
function joinFate(leg: Leg, taker: ReceiverLeg): Fate {
  const destination = leg.group ?? leg.unicast;
  const joined = taker.group;
  if (joined !== undefined && destination !== undefined && joined !== destination) return DENIED['other group'];
  if (leg.group !== undefined && !isMulticast(leg.group)) return DENIED['not multicast'];
  if (destination === undefined) return LACKING.group;
  const source = leg.group === undefined ? taker.source : wantedSource(taker);
  if (source !== undefined && leg.source !== undefined && source !== leg.source) return DENIED['other source'];
  if (leg.group !== undefined && isRefused(leg, leg.group, taker)) return DENIED['refused join'];
  const port = taker.port;
  return port !== undefined && leg.port !== undefined && port !== leg.port ? DENIED['other UDP port'] : DELIVERED;
}

/**
 * A source-specific group that is joined for any source, sent from a source nobody has, or joined in a version that
 * names no sources (RFC 4607 §5.2, RFC 4604 §2).
 */
function isRefused(leg: Leg, group: Address, taker: ReceiverLeg): boolean {
  if (!isSourceSpecificFor(leg.sender.rig, group)) return false;
  return (
    taker.join === 'any' ||
    (leg.source === undefined && !lacksSource(leg)) ||
    speaksNoSources(taker) ||
    filtersSources(leg.vlan, group) === false ||
    filtersSources(taker.vlan, group) === false
  );
}

/** A source-specific group sent from whatever address DHCP hands out: receivers may be told it, the plan is not. */
function lacksSource({ group, interface: via, sender }: Leg): boolean {
  return group !== undefined && via?.dhcp === true && isSourceSpecificFor(sender.rig, group);
}

/** Where both stand, and whether their VLANs have to do with each other. */
function placeFate(leg: Leg, taker: ReceiverLeg, { domains }: JudgeModel, statesRouting: () => boolean): Fate {
  const from = leg.vlan;
  const to = taker.vlan;
  if (isOutside(leg) || isOutside(taker)) return DENIED['port outside VLAN'];
  if (from !== to && from !== undefined && to !== undefined && !sameMeaning(from, to)) {
    if (domains.reach(leg) !== domains.reach(taker)) {
      if (arrivesElsewhere(leg, taker, domains)) return LACKING['sender leg'];
      return statesRouting() ? DENIED['not routed'] : LACKING.routing;
    }
  }
  if (leg.interface === undefined) return LACKING['sender interface'];
  if (taker.interface === undefined) return LACKING['receiver interface'];
  if (from === undefined) return LACKING['sender VLAN'];
  if (to === undefined) return LACKING['receiver VLAN'];
  if (leg.interface.port === undefined) return LACKING['sender port'];
  return taker.interface.port === undefined ? LACKING['receiver port'] : DELIVERED;
}

/** A receiver with more legs than the sender gets the stream on those that fit. */
function arrivesElsewhere(leg: Leg, taker: ReceiverLeg, domains: Domains): boolean {
  const domain = domains.reach(leg);
  return taker.receiver.legs.some((other) => other !== taker && other.takes === leg && domains.reach(other) === domain);
}

/** Whether links and routers lead from the sender's switch to the receiver's. */
function wayFate(leg: Leg, taker: ReceiverLeg, model: JudgeModel, stuck: () => Stopped): Fate {
  const { network } = model;
  const here = leg.interface?.port?.switch;
  const there = taker.interface?.port?.switch;
  // One VLAN on one switch: most receivers of a large plan.
  if (here === there && leg.vlan === taker.vlan) return DELIVERED;
  const start = network.forwardingOf(leg);
  const end = network.forwardingOf(taker);
  const from = here === undefined ? undefined : start?.segment.nodeOf.get(here);
  const to = there === undefined ? undefined : end?.segment.nodeOf.get(there);
  if (start === undefined || from === undefined) return LACKING['sender port'];
  if (end === undefined || to === undefined) return LACKING['receiver port'];
  // Parts of the plan's network that it does not tell apart, and that no link of it joins.
  if (start === end) return betweenFate(start, from, to);
  const { vlan } = taker;
  if (vlan !== undefined && start.segment.domain.vlans.includes(vlan)) return DENIED['no link'];
  if (leg.vlan !== undefined && vlan !== undefined && sameMeaning(leg.vlan, vlan)) return DENIED['no link'];
  // Routers never pass 224.0.0.x on (RFC 5771 §4).
  if (isLocalControl(leg.group)) return DENIED['not routed'];
  const routed = routedFate(leg, taker, { forwarding: start, node: from }, { forwarding: end, node: to }, model);
  return routed === DELIVERED && stuck()(leg, taker) ? DENIED['no rendezvous point'] : routed;
}

/** Links that lead there and do not carry anything are blocked by the spanning tree. */
function betweenFate(ground: ForwardingSegment, a: number, b: number): Fate {
  if (areJoined(ground, a, b)) return DELIVERED;
  return ground.linked(a, b) ? DENIED['blocked link'] : LACKING.link;
}

/** Through the routers that pass it on, one after another. */
function routedFate(
  leg: Leg,
  taker: ReceiverLeg,
  from: Spot<ForwardingSegment>,
  to: Spot<ForwardingSegment>,
  { plan, network, domains }: JudgeModel,
): Fate {
  const way = network.routing.way(from, to, leg.group === undefined || isIPv4(leg.group));
  switch (way.kind) {
    case 'way':
      // Nobody outside knows a way back to a source that is not in the VLAN's subnet (RFC 7761 §4.5.5).
      if (isSourceAstray(leg)) return DENIED['no way back'];
      return lasts(leg, way.stages) ? DELIVERED : DENIED['time to live'];
    case 'no neighbour':
      return DENIED['no way back'];
    case 'no router':
      return LACKING.router;
    case 'no link':
      return isBlocked(leg, from, to, network) ? DENIED['blocked link'] : LACKING.link;
    case 'apart':
      if (isBlocked(leg, from, to, network)) return DENIED['blocked link'];
      return plan.joins.length === 0 && areRoutersPlaced(domains.reach(taker), network)
        ? DENIED['routers apart']
        : LACKING.router;
  }
}

/** A stated source that lies in no subnet of the VLAN it is sent in. */
function isSourceAstray({ source, sourceStated, vlan }: Leg): boolean {
  if (source === undefined || !sourceStated || vlan === undefined) return false;
  const subnet = subnetFor(vlan, source);
  return subnet !== undefined && !inPrefix(source, subnet);
}

/** Whether it is known where every router of an area stands. */
function areRoutersPlaced({ vlans }: Domain, { routing }: Network): boolean {
  return vlans.every(
    (vlan) =>
      vlan.routing === undefined ||
      vlan.routing.mode === 'none' ||
      (vlan.routing.routers.length > 0 &&
        vlan.routing.routers.every((router) =>
          routing.feet.some(({ on, ground }) => on === router && ground.segment.domain.vlans.includes(vlan)),
        )),
  );
}

/** Whether a spanning tree keeps the only ways blocked. */
function isBlocked(leg: Leg, from: Spot<ForwardingSegment>, to: Spot<ForwardingSegment>, network: Network): boolean {
  if (network.forwardings.every(({ losses }) => losses === undefined)) return false;
  return network.routingOverBlocked().way(from, to, leg.group === undefined || isIPv4(leg.group)).kind === 'way';
}

/** Whether no router of the VLANs passes a leg on to a receiver that names no source. */
type Stopped = (leg: Leg, taker: ReceiverLeg) => boolean;

function stuckPairs({ domains, crossings }: JudgeModel): Stopped {
  const causes = stuckCrossings(crossings(), domains).map(({ legs, takers }) => ({
    legs: new Set(legs),
    takers: new Set(takers),
  }));
  return (leg, taker) => causes.some(({ legs, takers }) => legs.has(leg) && takers.has(taker));
}

function isLocalControl(group: Address | undefined): boolean {
  return typeof group === 'number' && group >>> 8 === LOCAL_CONTROL;
}

/** 224.0.0.0/24 (RFC 5771 §4), as group >>> 8. */
const LOCAL_CONTROL = 0xe00000;
