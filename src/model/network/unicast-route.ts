/**
 * Where a stream to one address goes: to whoever holds the address where that lies in the sender's own subnet, else to
 * the gateway of the sender's interface or VLAN and on through boxes that forward (RFC 1122 §3.3.1.1, RFC 1812 §2.2.3).
 */
import { kept } from '../../collections/kept.js';
import type { Interface, Leg, Plan, Rig } from '../../plan/types.js';
import { type Address, inPrefix, isIPv4, type Prefix } from '../../values/address.js';
import {
  addressOf,
  createUnheld,
  forwards,
  gatewayFor,
  gatewaysOf,
  isInterface,
  isLinkLocal,
  type Owner,
  type Owners,
  ownPrefix,
  subnetFor,
} from '../hosts/index.js';
import type { Domain, Domains } from '../vlans/index.js';
import { type BoxHop, boxesOnWay, type Feet, feetOf, type Foot } from './unicast-boxes.js';

/** What keeps a stream to one address from its end: first what the plan denies, then what it does not tell. */
export type UnicastStop =
  /** The address is outside the sender's subnet, and neither its interface nor its VLAN has a gateway. */
  | 'no gateway'
  /** It lies among hosts that are all known, and none has it. */
  | 'nobody holds'
  /** In the sender's own subnet by its number, and nothing joins the two. */
  | 'no link'
  | 'sender VLAN'
  | 'receiver VLAN'
  | 'receiver port'
  | 'address holder'
  | 'several holders'
  | 'gateway'
  | 'gateway box'
  | 'route'
  | 'several routes';

export interface UnicastRoute {
  /** Where the sender stands. */
  readonly from: Domain | undefined;
  /** Boxes that forward it, in order; the way on from the last may be open. */
  readonly boxes: readonly UnicastHop[];
  /** Who holds the address, where it is known who. */
  readonly end: Owner | undefined;
  /** Undefined where the way leads to the end. */
  readonly stop: UnicastStop | undefined;
  /** Whether the sender sends at all: without an answer for the next address it does not (RFC 826, RFC 4861 §7.2.2). */
  readonly sent: boolean;
}

/** A box on the way; the way on from it is undefined where it is the end, or not known. */
export interface UnicastHop {
  readonly into: Foot;
  readonly out: Foot | undefined;
}

/** Routes by leg, each worked out when first asked for. */
export type UnicastRoutes = (leg: Leg) => UnicastRoute | undefined;

export function createUnicastRoutes(plan: Plan, domains: Domains, owners: Owners): UnicastRoutes {
  const known = new Map<Leg, UnicastRoute>();
  let ground: Ground | undefined;
  return (leg) => {
    const { unicast } = leg;
    if (unicast === undefined || leg.group !== undefined) return undefined;
    return kept(known, leg, () => routeOf(leg, unicast, (ground ??= groundOf(plan, domains, owners))));
  };
}

interface Ground {
  readonly domains: Domains;
  readonly owners: Owners;
  readonly feet: Feet;
  /** Whether the plan states any gateway of that family: then a missing one is a fault and not a missing fact. */
  readonly statesGateways: (four: boolean) => boolean;
  readonly unheld: (rig: Rig, address: Address) => boolean;
  readonly ways: (gateway: readonly Foot[], to: Domain) => ReturnType<typeof boxesOnWay>;
}

function groundOf(plan: Plan, domains: Domains, owners: Owners): Ground {
  const feet = feetOf(plan, domains, owners);
  const stated = [
    ...plan.vlans.flatMap((vlan) => gatewaysOf(vlan).map(({ address }) => address)),
    ...plan.interfaces.flatMap(({ gateway }) => gateway ?? []),
  ];
  const families = new Set(stated.map(isIPv4));
  const unheld = createUnheld(plan, owners);
  const ways = new Map<Domain, Map<Foot | undefined, ReturnType<typeof boxesOnWay>>>();
  return {
    domains,
    owners,
    feet,
    statesGateways: (four) => families.has(four),
    unheld: (rig, address) => unheld(rig, address) !== undefined,
    ways: (gateways, to) => {
      const [first, another] = gateways;
      if (another !== undefined) return boxesOnWay(gateways, to, feet);
      return kept(
        kept(ways, to, () => new Map<Foot | undefined, ReturnType<typeof boxesOnWay>>()),
        first,
        () => boxesOnWay(gateways, to, feet),
      );
    },
  };
}

function routeOf(leg: Leg, to: Address, ground: Ground): UnicastRoute {
  const { domains, owners } = ground;
  const { vlan, interface: via } = leg;
  const all = owners.byAddress.get(to) ?? [];
  const own = all.filter((one) => rigOfOwner(one) === leg.sender.rig);
  const holders = own.length > 0 ? own : all;
  const [single] = holders.length === 1 ? holders : [];
  if (vlan === undefined) return stopped('sender VLAN', undefined, single, true);
  const from = domains.switched(leg);
  if (holders.length === 0 && ground.unheld(leg.sender.rig, to)) return stopped('nobody holds', from, undefined, false);

  const subnet = subnetOf(via, leg, to);
  const here = holders.filter((one) => domainOf(one, domains) === from);
  const near = isLinkLocal(to) || (subnet === undefined ? here.length > 0 : inPrefix(to, subnet));
  if (near) {
    const [end, another] = here;
    if (another !== undefined) return stopped('several holders', from, undefined, true);
    if (end !== undefined) return { from, boxes: [], end, stop: undefined, sent: true };
    if (holders.length === 0) return stopped('address holder', from, undefined, true);
    if (holders.every((one) => one.vlan === undefined)) return stopped('receiver VLAN', from, single, true);
    if (holders.some((one) => isInterface(one) && !domains.placed(one)))
      return stopped('receiver port', from, single, true);
    return stopped('no link', from, single, false);
  }

  const gateway = gatewayOf(via, leg, to);
  if (gateway === undefined) {
    const denied = subnet !== undefined && ground.statesGateways(isIPv4(to));
    return stopped(denied ? 'no gateway' : 'gateway', from, single, !denied);
  }
  const feet = gatewayFeet(gateway, from, ground);
  const [foot] = feet;
  if (foot === undefined) return stopped('gateway box', from, single, true);
  const atGateway = feet.length === 1 ? [{ into: foot, out: undefined }] : [];
  if (holders.length === 0) return { ...stopped('address holder', from, undefined, true), boxes: atGateway };
  if (single === undefined) return { ...stopped('several holders', from, undefined, true), boxes: atGateway };
  if (feet.length === 1 && boxOf(single) === foot.on && forwards(single))
    return { from, boxes: atGateway, end: single, stop: undefined, sent: true };
  const beyond = domainOf(single, domains);
  if (beyond === undefined) return { ...stopped('receiver VLAN', from, single, true), boxes: atGateway };
  const boxes = ground.ways(feet, beyond);
  if (boxes === 'none') return { ...stopped('route', from, single, true), boxes: atGateway };
  if (boxes === 'several') return { ...stopped('several routes', from, single, true), boxes: atGateway };
  return { from, boxes, end: single, stop: undefined, sent: true };
}

function stopped(stop: UnicastStop, from: Domain | undefined, end: Owner | undefined, sent: boolean): UnicastRoute {
  return { from, boxes: [], end, stop, sent };
}

/** What the sender takes for its own subnet: by its own prefix, else by that of its VLAN. */
function subnetOf(via: Interface | undefined, leg: Leg, to: Address): Prefix | undefined {
  const address = via === undefined ? undefined : addressOf(via, isIPv4(to));
  const length = isIPv4(to) ? via?.prefixLength : via?.prefixLength6;
  // A host shows an address it got from DHCPv6 as a /128, which says nothing about the subnet (RFC 5942 §4).
  const own = address === undefined || length === 128 ? undefined : ownPrefix(address, length);
  return own ?? (leg.vlan === undefined ? undefined : subnetFor(leg.vlan, to));
}

function gatewayOf(via: Interface | undefined, leg: Leg, to: Address): Address | undefined {
  const own = via?.gateway;
  if (own !== undefined && isIPv4(own) === isIPv4(to)) return own;
  return leg.vlan === undefined ? undefined : gatewayFor(leg.vlan, to)?.address;
}

/** Boxes that hold the gateway's address where the sender stands, and forward. */
function gatewayFeet(gateway: Address, from: Domain, { owners, feet, domains }: Ground): readonly Foot[] {
  const holders = (owners.byAddress.get(gateway) ?? []).filter(
    (owner) => forwards(owner) && domainOf(owner, domains) === from,
  );
  return holders.flatMap((owner) => {
    const there = feet.of(boxOf(owner)).filter(({ domain }) => domain === from);
    return there.find(({ via }) => via === owner) ?? there[0] ?? [];
  });
}

function domainOf(owner: Owner, domains: Domains): Domain | undefined {
  if (owner.vlan === undefined) return undefined;
  return isInterface(owner) ? domains.switched(owner) : domains.onSwitch(owner.switch, owner.vlan);
}

function boxOf(owner: Owner): Foot['on'] {
  return isInterface(owner) ? owner.device : owner.switch;
}

function rigOfOwner(owner: Owner): Rig {
  return boxOf(owner).rig;
}

/** Every switched domain it passes, in order; one twice where a router sends it back into the domain it came from. */
export function domainsOnWay({ from, boxes }: UnicastRoute): readonly Domain[] {
  return [from, ...boxes.map(({ out }) => out?.domain)].filter((domain) => domain !== undefined);
}

/** Boxes that send it on. */
export function forwardingBoxes({ boxes }: UnicastRoute): readonly BoxHop[] {
  return boxes.flatMap(({ into, out }) => (out === undefined ? [] : [{ into, out }]));
}
